package org.fairturn.report;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.fairturn.chart.DifferenceAxis;
import org.fairturn.finding.Days;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Warning;
import org.fairturn.finding.Wording;

/** The report of several days held against each other. */
public final class DaysReport {
    private final Days days;
    private final List<Warning> warnings;

    private DaysReport(Days days, List<Warning> warnings) {
        this.days = days;
        this.warnings = List.copyOf(warnings);
    }

    /**
     * {@return the report of a comparison}
     *
     * @param days worked out
     * @param notes what else a reader should know, such as what looks like a slip on one of the days
     */
    public static DaysReport of(Days days, List<Warning> notes) {
        List<Warning> all = new ArrayList<>(days.warnings());
        all.addAll(notes);
        return new DaysReport(days, all);
    }

    /**
     * {@return how probable ranges are; what is said of each machine; then every finding: its verdict and sentence, and what to
     * do next unless an earlier finding asks for the same}
     */
    public List<String> sentences() {
        List<String> sentences = new ArrayList<>();
        if (!days.machines().isEmpty()) {
            sentences.add(Wording.ranges(days.confidence()));
        }
        days.machines().forEach(m -> sentences.add(m.summary()));
        Set<String> asked = new HashSet<>();
        for (Finding finding : days.findings()) {
            sentences.add(ReportView.badge(finding) + " | " + finding.sentence());
            finding.robustness().ifPresent(r -> sentences.add("    " + r.sentence()));
            if (asked.add(finding.next())) {
                sentences.add("    Next: " + finding.next());
            }
        }
        return List.copyOf(sentences);
    }

    /** {@return every warning in one line} */
    public List<String> warnings() {
        return warnings.stream().map(w -> w.where() + ": " + w.message()).toList();
    }

    /** {@return the results for programs; lengths in millimetres} */
    public String resultsJson() {
        return DaysJson.write(days, warnings);
    }

    /**
     * Writes days.html, results.json, results.csv and charts/ into a folder, which is made where it is missing. Each file is
     * replaced in one step; days.html comes last, so that it never shows what the others do not hold.
     *
     * @param folder need not exist
     * @param withPdf whether days.pdf, the same for paper, is written too
     * @return where days.html is
     * @throws IOException if a file cannot be written; those written before it are whole
     */
    public Path write(Path folder, boolean withPdf) throws IOException {
        List<Figure> figures = figure().stream().toList();
        DaysView view = DaysView.of(days, warnings, figures);
        Map<String, byte[]> further =
                withPdf ? Map.of("days.pdf", Pdf.of(TrialReport.rendered("daysPrint.jte", view))) : Map.of();
        return TrialReport.write(
                folder,
                "days.html",
                TrialReport.rendered("days.jte", view),
                figures,
                resultsJson(),
                ResultsCsv.write(days),
                further);
    }

    private Optional<Figure> figure() {
        List<DifferenceAxis.Panel> panels = new ArrayList<>();
        for (Days.OverDays machine : days.machines()) {
            List<Days.Against> shown =
                    machine.days().size() == 2 ? machine.against().subList(0, 1) : machine.against();
            for (Days.Against against : shown) {
                List<DifferenceAxis.Row> rows = new ArrayList<>();
                if (against.cells().size() > 1) {
                    rows.add(Drawings.row("all turns and drives", against.difference(), true));
                }
                against.cells().forEach(in -> rows.add(Drawings.row(Drawings.name(in.cell()), in.difference(), false)));
                panels.add(new DifferenceAxis.Panel(machine.machine() + ", " + against.day(), rows));
            }
        }
        return DifferenceAxis.draw(
                        new DifferenceAxis.Words("days", "Day against day", "how much larger than on the other days"),
                        panels,
                        days.margin(),
                        days.lengthUnit())
                .map(d -> new Figure(
                        "Each day against the other days",
                        "How much larger the circles of a day are than the mean of the other days, all turns and drives together and"
                                + " one by one. A bar within the shaded band is no difference that matters, a bar wholly outside is"
                                + " one.",
                        d));
    }
}
