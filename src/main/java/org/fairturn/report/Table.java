package org.fairturn.report;

import java.util.Arrays;
import java.util.List;
import java.util.regex.Pattern;
import org.fairturn.units.Figures;

/**
 * A table of a report, every cell ready to show.
 *
 * @param caption what it shows
 * @param headings one a column
 * @param rows as many cells each as there are headings; the first names the row
 */
public record Table(String caption, List<String> headings, List<List<String>> rows) {
    private static final Pattern BEFORE_UNIT = Pattern.compile("(?<=\\d) (?=mm|in\\b|%)");

    /**
     * Keeps its own copy of the lists, with numbers and their units kept on one line.
     *
     * @param caption what it shows
     * @param headings one a column
     * @param rows as many cells each as there are headings; the first names the row
     */
    public Table {
        headings = List.copyOf(headings);
        rows = rows.stream()
                .map(row -> row.stream().map(Table::keepTogether).toList())
                .toList();
    }

    /** {@return whether there is anything in it} */
    public boolean filled() {
        return !rows.isEmpty();
    }

    /** {@return whether a cell holds whole sentences, which have to wrap} */
    public boolean wordy() {
        return rows.stream().flatMap(List::stream).anyMatch(cell -> cell.length() > 120);
    }

    /** {@return how wide each column is on paper, as a style sheet writes it} */
    public List<String> widths() {
        return Arrays.stream(ColumnWidths.percent(this))
                .mapToObj(width -> Figures.fixed(width, 1) + "%")
                .toList();
    }

    /** {@return whether it is laid on its side on paper} */
    public boolean wide() {
        return ColumnWidths.wide(this);
    }

    /** Numbers stay on one line with their unit. */
    static String keepTogether(String text) {
        return BEFORE_UNIT.matcher(text).replaceAll("\u00a0");
    }
}
