package org.fairturn.report;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.CellEstimate;
import org.fairturn.finding.Days;
import org.fairturn.finding.Difference;
import org.fairturn.finding.Finding;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.Interlaboratory;
import org.fairturn.units.Figures;

/** results.csv: a row a cell, a difference or a finding; lengths in millimetres; texts as {@link CellText} writes them. */
final class ResultsCsv {
    private static final CSVFormat FORMAT =
            CSVFormat.RFC4180.builder().setRecordSeparator("\n").get();

    private ResultsCsv() {}

    static String write(Analysis analysis) {
        StringBuilder text = headed();
        for (CellEstimate cell : analysis.cells()) {
            row(
                    text,
                    "uncut diameter",
                    cell.cell().machine(),
                    Drawings.name(cell.cell()),
                    cell.diameter(),
                    cell.circles().size(),
                    cell.readings(),
                    "",
                    "",
                    cell.restsOnAssumption());
        }
        for (Difference d : analysis.differences()) {
            row(
                    text,
                    "difference",
                    d.from().machine(),
                    Drawings.name(d.to()) + " less " + Drawings.name(d.from()),
                    d.estimate(),
                    "",
                    "",
                    "",
                    "",
                    d.restsOnAssumption());
        }
        analysis.findings().forEach(f -> finding(text, f));
        return text.toString();
    }

    /** Several days: a row a turn and drive on a day, a spread, a difference or a finding. */
    static String write(Days days) {
        StringBuilder text = headed();
        for (Days.OverDays machine : days.machines()) {
            for (Days.Level level : machine.levels()) {
                for (Interlaboratory.Group group : level.measured().groups()) {
                    row(
                            text,
                            "uncut diameter",
                            machine.machine(),
                            Drawings.name(level.cell()) + ", " + group.label(),
                            List.of(fixed(1000 * group.mean(), 3), "", ""),
                            group.n(),
                            "",
                            "",
                            "",
                            "");
                }
            }
            machine.known().ifPresent(k -> {
                row(text, "repeatability", machine.machine(), "", k.repeatability(), "", "", "", "", false);
                row(text, "reproducibility", machine.machine(), "", k.reproducibility(), "", "", "", "", false);
            });
            for (Days.Against against : machine.against()) {
                for (Days.InCell in : against.cells()) {
                    row(
                            text,
                            "difference",
                            machine.machine(),
                            Drawings.name(in.cell()) + ", " + against.day() + " less the other days",
                            in.difference(),
                            "",
                            "",
                            "",
                            "",
                            "");
                }
            }
        }
        days.findings().forEach(f -> finding(text, f));
        return text.toString();
    }

    private static StringBuilder headed() {
        StringBuilder text = new StringBuilder();
        row(
                text,
                "row",
                "machine",
                "subject",
                "estimate mm",
                "low mm",
                "high mm",
                "circles",
                "readings",
                "verdict",
                "probability",
                "rests on assumed repeatability");
        return text;
    }

    private static void finding(StringBuilder text, Finding f) {
        Map<String, String> subject = f.subject();
        row(
                text,
                f.question().word(),
                subject.getOrDefault("machine", ""),
                subject.entrySet().stream()
                        .filter(e -> !e.getKey().equals("machine"))
                        .map(e -> e.getKey() + " " + e.getValue())
                        .collect(Collectors.joining(", ")),
                f.estimate().map(ResultsCsv::millimetres).orElse(List.of("", "", "")),
                "",
                "",
                f.verdict().word(),
                f.estimate().isPresent() ? fixed(f.verdict().probability(), 6) : "",
                f.restsOnAssumption());
    }

    private static List<String> millimetres(Estimate e) {
        return List.of(fixed(1000 * e.value(), 3), fixed(1000 * e.low(), 3), fixed(1000 * e.high(), 3));
    }

    private static String fixed(double value, int decimals) {
        return Figures.fixed(value, decimals);
    }

    private static void row(StringBuilder text, Object... cells) {
        Object[] flat = Arrays.stream(cells)
                .flatMap(cell -> cell instanceof Estimate e
                        ? millimetres(e).stream()
                        : cell instanceof List<?> list ? list.stream() : Stream.of(cell))
                .map(cell -> cell instanceof Boolean b ? (b ? "yes" : "no") : CellText.written(cell.toString()))
                .toArray();
        text.append(FORMAT.format(flat)).append('\n');
    }
}
