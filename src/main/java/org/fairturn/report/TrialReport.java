package org.fairturn.report;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.fairturn.chart.Charts;
import org.fairturn.chart.Drawing;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.CellEstimate;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Warning;
import org.fairturn.finding.Wording;
import org.fairturn.folder.AtomicFile;
import org.fairturn.folder.Note;
import org.fairturn.folder.Problem;

/** The report of one analysed trial. */
public final class TrialReport {
    private final Analysis analysis;
    private final List<Warning> warnings;

    private TrialReport(Analysis analysis, List<Warning> warnings) {
        this.analysis = analysis;
        this.warnings = List.copyOf(warnings);
    }

    /**
     * The report of an analysis.
     *
     * @param notes what else a reader should know, such as what was noticed while the folder was read
     */
    public static TrialReport of(Analysis analysis, List<Warning> notes) {
        List<Warning> all = new ArrayList<>(analysis.warnings());
        all.addAll(notes);
        return new TrialReport(analysis, all);
    }

    /** Loads what drawings need while something else is worked out; leaving it out changes nothing but the time. */
    public static void prepare() {
        Thread loader = new Thread(Charts::unavailable, "charts");
        loader.setDaemon(true);
        loader.start();
    }

    /** The uncut circle of every cell; then every finding: its verdict and sentence, what would overturn it, and what to do next unless an earlier finding asks for the same. */
    public List<String> sentences() {
        Wording wording = new Wording(analysis.trial().conditions().lengthUnit());
        List<String> sentences = new ArrayList<>();
        for (CellEstimate cell : analysis.cells()) {
            sentences.add(cell.cell() + ": uncut circle "
                    + wording.amount(cell.diameter().value()) + ", "
                    + wording.range(cell.diameter().low(), cell.diameter().high())
                    + (cell.restsOnAssumption() ? "; rests on the assumed repeatability" : "") + ".");
        }
        Set<String> asked = new HashSet<>();
        for (Finding finding : analysis.findings()) {
            if (!analysis.leads(finding)) {
                continue;
            }
            sentences.add(ReportView.badge(finding) + " | " + finding.sentence());
            finding.robustness().ifPresent(r -> sentences.add("    " + r.sentence()));
            if (asked.add(finding.next())) {
                sentences.add("    Next: " + finding.next());
            }
        }
        long further =
                analysis.findings().stream().filter(f -> !analysis.leads(f)).count();
        if (further > 0) {
            sentences.add("The report holds " + further
                    + " further answers: less likely readings of claims, single turns of machines"
                    + " that are compared or complained of on the whole.");
        }
        sentences.addAll(analysis.trial().conditions().assumption().sentences());
        return List.copyOf(sentences);
    }

    /** Every warning in one line. */
    public List<String> warnings() {
        return warnings.stream().map(w -> w.where() + ": " + w.message()).toList();
    }

    /** One line that says what to install, where charts cannot be drawn on this machine. */
    public Optional<String> chartsMissing() {
        return Charts.unavailable();
    }

    /** The results for programs; lengths in millimetres, angles in degrees. */
    public String resultsJson() {
        return ResultsJson.write(analysis, warnings);
    }

    /** For programs, why a folder could not be analysed, in the same format. */
    public static String errorsJson(String folder, List<Problem> problems, List<Warning> notes) {
        return ResultsJson.errors(folder, problems, notes);
    }

    /** What was noticed while a folder was read, as warnings beside those of the analysis. */
    public static List<Warning> asWarnings(List<Note> notes) {
        return notes.stream()
                .map(note -> new Warning("folder", note.where(), note.text()))
                .toList();
    }

    /** Cells, differences and findings as one table for spreadsheets, lengths in millimetres. */
    public String resultsCsv() {
        return ResultsCsv.write(analysis);
    }

    /** The page to read and print, charts included; it stands alone. */
    public String html() {
        return html(Drawings.of(analysis));
    }

    /**
     * Writes report.html, results.json, results.csv and charts/ into a folder, which is made where it is missing. Each file
     * is replaced in one step; report.html comes last, so that it never shows what the others do not hold.
     *
     * @return where report.html is
     * @throws IOException if a file cannot be written; those written before it are whole
     */
    public Path write(Path folder) throws IOException {
        List<Figure> figures = Drawings.of(analysis);
        // everything is worked out before the first file is touched
        String json = resultsJson();
        String csv = resultsCsv();
        String html = html(figures);
        return write(folder, "report.html", html, figures, json, csv);
    }

    /** Writes a page with its drawings and results into a folder; the page comes last. */
    static Path write(Path folder, String name, String html, List<Figure> figures, String json, String csv)
            throws IOException {
        Path charts = Files.createDirectories(folder).resolve("charts");
        Files.createDirectories(charts);
        for (Figure figure : figures) {
            Drawing drawing = figure.drawing();
            write(charts.resolve(drawing.name() + ".svg"), drawing.svgFile());
            Optional<byte[]> png = drawing.png();
            if (png.isPresent()) {
                AtomicFile.write(charts.resolve(drawing.name() + ".png"), png.get());
            }
        }
        write(folder.resolve("results.json"), json);
        write(folder.resolve("results.csv"), csv);
        Path page = folder.resolve(name);
        write(page, html);
        return page;
    }

    private static void write(Path file, String text) throws IOException {
        AtomicFile.write(file, text.getBytes(StandardCharsets.UTF_8));
    }

    private String html(List<Figure> figures) {
        StringOutput page = new StringOutput();
        TemplateEngine.createPrecompiled(null, ContentType.Html, null, "org.fairturn.report.template")
                .render("report.jte", ReportView.of(analysis, warnings, figures, chartsMissing()), page);
        return page.toString();
    }
}
