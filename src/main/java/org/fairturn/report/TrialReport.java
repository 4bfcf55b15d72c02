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
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.fairturn.chart.Charts;
import org.fairturn.chart.Drawing;
import org.fairturn.chart.ResultCard;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.CellEstimate;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Warning;
import org.fairturn.finding.Wording;
import org.fairturn.folder.AtomicFile;
import org.fairturn.folder.Bundle;
import org.fairturn.folder.Note;
import org.fairturn.folder.Problem;
import org.fairturn.folder.TakenTrial;

/** The report of one analysed trial. */
public final class TrialReport {
    private final Analysis analysis;
    private final List<Warning> warnings;
    /** Drawn once, when first asked for. */
    private List<Figure> figures;

    private Drawing card;

    private TrialReport(Analysis analysis, List<Warning> warnings) {
        this.analysis = analysis;
        this.warnings = List.copyOf(warnings);
    }

    /**
     * {@return the report of an analysis}
     *
     * @param analysis whose words and numbers are shown
     * @param notes what else a reader should know, such as what was noticed while the folder was read
     */
    public static TrialReport of(Analysis analysis, List<Warning> notes) {
        List<Warning> all = new ArrayList<>(analysis.warnings());
        all.addAll(notes);
        return new TrialReport(analysis, all);
    }

    /** Loads what drawings need while something else is worked out; leaving it out changes nothing but the time. */
    public static void prepare() {
        Thread loader = new Thread(Charts::prepare, "charts");
        loader.setDaemon(true);
        loader.start();
    }

    /**
     * {@return how probable ranges are; the uncut circle of every cell; then every leading finding: its verdict and sentence,
     * what would overturn it, and what to do next unless an earlier finding asks for the same}
     */
    public List<String> sentences() {
        Wording wording = new Wording(analysis.trial().conditions().lengthUnit());
        List<String> sentences = new ArrayList<>();
        if (!analysis.cells().isEmpty()) {
            sentences.add(Wording.ranges(analysis.trial().conditions().confidence()));
        }
        for (CellEstimate cell : analysis.cells()) {
            sentences.add(cell.cell() + ": uncut circle "
                    + wording.amount(cell.diameter()) + ", "
                    + wording.sizeRange(cell.diameter())
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
                    + (further == 1 ? " further answer" : " further answers")
                    + ": less likely readings of claims, single turns of machines"
                    + " that are compared or complained of on the whole.");
        }
        sentences.addAll(analysis.trial().conditions().assumption().sentences());
        return List.copyOf(sentences);
    }

    /** {@return every warning in one line} */
    public List<String> warnings() {
        return warnings.stream().map(w -> w.where() + ": " + w.message()).toList();
    }

    /** {@return one line that says what to install, where charts cannot be drawn on this machine} */
    public Optional<String> chartsMissing() {
        return Charts.unavailable();
    }

    /** {@return the results for programs; lengths in millimetres, angles in degrees} */
    public String resultsJson() {
        return ResultsJson.write(analysis, warnings);
    }

    /**
     * For programs, why a folder could not be analysed, in the same format.
     *
     * @param folder name of the trial
     * @param problems why it could not be analysed, one or more
     * @param notes what was noticed while it was read
     * @return one JSON object
     */
    public static String errorsJson(String folder, List<Problem> problems, List<Warning> notes) {
        return ResultsJson.errors(folder, problems, notes);
    }

    /**
     * {@return what was noticed while a folder was read, as warnings beside those of the analysis}
     *
     * @param notes in the order they were noticed
     */
    public static List<Warning> asWarnings(List<Note> notes) {
        return notes.stream()
                .map(note -> new Warning("folder", note.where(), note.text()))
                .toList();
    }

    /** {@return cells, differences and findings as one table for spreadsheets, lengths in millimetres} */
    public String resultsCsv() {
        return ResultsCsv.write(analysis);
    }

    /** {@return the page to read and print, charts included; it stands alone} */
    public String html() {
        return rendered("report.jte", view());
    }

    private synchronized List<Figure> figures() {
        if (figures == null) {
            figures = Drawings.of(analysis);
        }
        return figures;
    }

    /**
     * {@return what stands in the page to read and print, for a page with a frame of its own; the working is folded away}
     *
     * @param linked where drawings are fetched from
     * @param measured the report of the trial as it was measured, where this one is of a trial with something tried
     */
    public String parts(ReportView.Linked linked, Optional<TrialReport> measured) {
        ReportView view =
                ReportView.of(analysis, warnings, figures(), chartsMissing(), measured.map(real -> real.analysis));
        return rendered("parts.jte", Map.of("view", view, "linked", Optional.of(linked)));
    }

    /**
     * {@return every verdict that is another than in the report of the trial as it was measured, a sentence each; then how
     * many stay}
     *
     * @param measured report of the trial without what was tried
     */
    public List<String> changesAgainst(TrialReport measured) {
        return new Compared(measured.analysis, analysis).sentences();
    }

    /** {@return what was analysed} */
    public Analysis analysis() {
        return analysis;
    }

    /** {@return the names of the files in which {@link #write} leaves drawings} */
    public List<String> drawingFiles() {
        return figures().stream()
                .map(Figure::drawing)
                .flatMap(d -> Stream.concat(
                        Stream.of(d.name() + ".svg"), d.png().stream().map(png -> d.name() + ".png")))
                .toList();
    }

    /**
     * {@return a drawing as {@link #write} leaves it; empty where it leaves no file of that name}
     *
     * @param name such as {@code left-right.svg}
     */
    public Optional<byte[]> drawingFile(String name) {
        for (Figure figure : figures()) {
            Drawing drawing = figure.drawing();
            if (name.equals(drawing.name() + ".svg")) {
                return Optional.of(drawing.svgFile().getBytes(StandardCharsets.UTF_8));
            }
            if (name.equals(drawing.name() + ".png")) {
                return drawing.png();
            }
        }
        return Optional.empty();
    }

    /**
     * Writes report.html, results.json, results.csv and charts/ into a folder, which is made where it is missing. Each file
     * is replaced in one step; report.html comes last, so that it never shows what the others do not hold.
     *
     * @param folder need not exist
     * @return where report.html is
     * @throws IOException if a file cannot be written; those written before it are whole
     */
    public Path write(Path folder) throws IOException {
        return write(folder, Map.of());
    }

    /**
     * The same with further files, which lie beside report.html and are written before it.
     *
     * @param folder need not exist
     * @param further their contents by name
     * @return where report.html is
     * @throws IOException if a file cannot be written; those written before it are whole
     */
    public Path write(Path folder, Map<String, byte[]> further) throws IOException {
        // everything is worked out before the first file is touched
        String json = resultsJson();
        String csv = resultsCsv();
        String html = html();
        return write(folder, "report.html", html, figures(), json, csv, further);
    }

    /** {@return one picture of the leading findings, with everything that weakens them; PNG where this machine has fonts} */
    public synchronized Drawing card() {
        if (card == null) {
            card = ResultCard.draw(CardContent.of(analysis));
        }
        return card;
    }

    /** {@return the same as files by name, in words too} */
    public Map<String, byte[]> cardFiles() {
        Map<String, byte[]> files = new LinkedHashMap<>();
        files.put("card.svg", utf8(card().svgFile()));
        card().png().ifPresent(png -> files.put("card.png", png));
        files.put("card.txt", utf8(card().description() + "\n"));
        return files;
    }

    /**
     * All of it in one file to hand over: the trial's files byte for byte, the results, the page and how it was done.
     *
     * @param name of the trial
     * @param taken the trial with its files
     * @param beside further files by name, such as the card
     * @return the bytes of a zip; the same trial gives the same bytes
     */
    public byte[] bundle(String name, TakenTrial taken, Map<String, byte[]> beside) {
        Map<String, byte[]> files = new LinkedHashMap<>(taken.files());
        files.put(Bundle.RESULTS, utf8(resultsJson()));
        files.put("results.csv", utf8(resultsCsv()));
        files.put("report.html", utf8(html()));
        files.put(Bundle.METHOD, utf8(MethodStatement.of(analysis, view(), name + ".zip")));
        files.putAll(beside);
        return Bundle.pack(analysis.trial().folder(), files);
    }

    private static byte[] utf8(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    /**
     * The report on paper: what stands in report.html, everything unfolded, the working as an appendix.
     *
     * @return a PDF, tagged, with its letters in it
     */
    public byte[] pdf() {
        return Pdf.of(rendered("print.jte", view()));
    }

    /** Writes a page with its drawings and results into a folder; the page comes last. */
    static Path write(
            Path folder,
            String name,
            String html,
            List<Figure> figures,
            String json,
            String csv,
            Map<String, byte[]> further)
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
        for (Map.Entry<String, byte[]> file : further.entrySet()) {
            AtomicFile.write(folder.resolve(file.getKey()), file.getValue());
        }
        Path page = folder.resolve(name);
        write(page, html);
        return page;
    }

    private static void write(Path file, String text) throws IOException {
        AtomicFile.write(file, text.getBytes(StandardCharsets.UTF_8));
    }

    private ReportView view() {
        return ReportView.of(analysis, warnings, figures(), chartsMissing());
    }

    static String rendered(String template, Object view) {
        return rendered(template, Map.of("view", view));
    }

    private static String rendered(String template, Map<String, Object> parameters) {
        StringOutput page = new StringOutput();
        TemplateEngine.createPrecompiled(null, ContentType.Html, null, "org.fairturn.report.template")
                .render(template, parameters, page);
        return page.toString();
    }
}
