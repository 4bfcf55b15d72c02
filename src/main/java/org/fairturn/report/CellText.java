package org.fairturn.report;

import java.util.regex.Pattern;

/**
 * Texts in the CSV files that Fairturn makes. A spreadsheet takes a cell that begins with {@code =} or the like for a formula
 * and works it out; whoever typed a label should not get to run formulas on the machine of whoever opens the results. An
 * apostrophe before it makes it a text. Numbers stay numbers.
 */
final class CellText {
    /** What spreadsheets begin formulas with, the wide forms of East Asian keyboards among them, and what they pass over. */
    private static final Pattern FORMULA = Pattern.compile("(?s)'*[=+\\-@\t\r\n＝＋－＠].*");

    private static final Pattern NUMBER = Pattern.compile("-?[0-9]+(\\.[0-9]+)?([eE]-?[0-9]+)?");

    private CellText() {}

    /** What is written for a text; {@link #read} gives it back. */
    static String written(String text) {
        return FORMULA.matcher(text).matches() && !NUMBER.matcher(text).matches() ? "'" + text : text;
    }

    /** What a written text stands for. */
    static String read(String cell) {
        return cell.startsWith("'") && FORMULA.matcher(cell).matches() ? cell.substring(1) : cell;
    }
}
