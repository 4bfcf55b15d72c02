package org.fairturn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.finding.Analysis;
import org.fairturn.folder.DataCode;

/** METHOD.txt of a bundle: what was asked, how it was worked out, what was assumed, by which program, and how to do it again. */
final class MethodStatement {
    private static final String PROGRAM = "Program: ";
    private static final int WIDTH = 100;

    private MethodStatement() {}

    static String of(Analysis analysis, ReportView view, String bundle) {
        List<String> lines = new ArrayList<>();
        lines.add("How the results of this bundle were worked out");
        lines.add("");
        lines.add(PROGRAM + Program.name());
        lines.add("Trial: " + plain(view.title()));
        lines.add("Data code: " + DataCode.of(analysis.trial()));
        section(lines, "What was asked", view.briefs().stream().map(Brief::about));
        section(lines, "How it was worked out", view.method().stream());
        section(
                lines,
                "What was assumed and agreed",
                Stream.concat(
                        view.facts().stream()
                                .flatMap(table -> table.rows().stream())
                                .map(row -> row.get(0) + ": " + row.get(1)),
                        Stream.of(
                                "Assumed circle repeatability: "
                                        + analysis.trial().conditions().assumedCircleRepeatability(),
                                "Assumed reading repeatability: "
                                        + analysis.trial().conditions().assumedReadingRepeatability())));
        section(
                lines,
                "To work it out again",
                Stream.of(
                        "fairturn report " + bundle
                                + " reads this file as it is, works everything out anew and says whether the"
                                + " numbers are those of results.json. Unpacked, the folder in it is the trial folder.",
                        "The CSV files are those the results were worked out from, byte for byte; removed.csv, where it is here,"
                                + " holds rows that were taken out and have no part in them."));
        section(lines, "Before anyone acts", Cautions.ALL.stream());
        return String.join("\n", lines) + "\n";
    }

    /** The program a statement names; empty where it names none. */
    static Optional<String> program(String statement) {
        return statement
                .lines()
                .filter(line -> line.startsWith(PROGRAM))
                .map(line -> line.substring(PROGRAM.length()).strip())
                .filter(name -> name.length() < 40)
                .findFirst();
    }

    private static void section(List<String> lines, String title, Stream<String> items) {
        lines.add("");
        lines.add(title);
        lines.add("-".repeat(title.length()));
        items.forEach(item -> {
            StringBuilder line = new StringBuilder("-");
            for (String word : plain(item).split(" ", -1)) {
                if (line.length() + 1 + word.length() > WIDTH) {
                    lines.add(line.toString());
                    line.setLength(0);
                    line.append(' ');
                }
                line.append(' ').append(word);
            }
            lines.add(line.toString());
        });
    }

    /** One line, whatever was typed: no text may pass for a line of this statement. */
    private static String plain(String text) {
        return text.codePoints()
                .map(c -> Character.isISOControl(c) || c == 0x2028 || c == 0x2029 ? ' ' : c)
                .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
                .toString();
    }
}
