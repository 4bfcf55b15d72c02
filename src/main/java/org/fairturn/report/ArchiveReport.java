package org.fairturn.report;

import com.fasterxml.jackson.core.JsonGenerator;
import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.fairturn.chart.DriftChart;
import org.fairturn.finding.Archive;
import org.fairturn.finding.Drift;
import org.fairturn.finding.PastTrial;
import org.fairturn.finding.Wording;
import org.fairturn.folder.AtomicFile;
import org.fairturn.trial.Conditions;
import org.fairturn.uncertainty.AcrossTrials;
import org.fairturn.uncertainty.PastScatter;
import org.fairturn.units.Figures;
import org.fairturn.units.LengthUnit;

/** What an archive of past trials teaches of the repeatability: sentences, tables, a control chart, and a file to use it from. */
public final class ArchiveReport {
    /** The file with a row for each trial, machine and drive. */
    static final String FILE = "repeatability.csv";

    private static final String NONE = "–";
    /** Names listed before the rest is only counted. */
    private static final int LISTED = 8;

    private final String name;
    private final ArchiveSource.Found found;
    private final Archive archive;
    private final LengthUnit unit;
    private final Wording wording;
    private final List<Archive.Taught> groups;
    private final Drift circles;
    private final Drift readings;

    /**
     * The report of an archive.
     *
     * @param name what it is called
     * @param found the trials, and what was left out of them
     * @param unit shown first
     */
    public ArchiveReport(String name, ArchiveSource.Found found, LengthUnit unit) {
        this.name = name;
        this.found = found;
        this.unit = unit;
        archive = found.archive();
        wording = new Wording(unit);
        groups = archive.groups();
        circles = archive.circleDrift();
        readings = archive.readingDrift();
    }

    /** {@return whether there is anything to learn from} */
    public boolean empty() {
        return archive.rows().isEmpty();
    }

    /** {@return what it teaches, in plain words} */
    public List<String> sentences() {
        List<String> sentences = new ArrayList<>();
        Archive.Taught all = groups.get(0);
        sentences.add(count(all.trials(), "past trial", "past trials") + " with "
                + count(all.circles(), "circle", "circles") + ".");
        sentences.add(taught(
                "From circle to circle",
                "circles driven alike",
                all.circle(),
                Conditions.DEFAULT_CIRCLE_REPEATABILITY.metres()));
        sentences.add(taught(
                "From reading to reading",
                "readings of one circle",
                all.reading(),
                Conditions.DEFAULT_READING_REPEATABILITY.metres()));
        if (!archive.tooSmall().isEmpty()) {
            sentences.add("Too few for a group of their own, so taken with all: " + listed(archive.tooSmall())
                    + ". A group needs " + Archive.ENOUGH + " trials.");
        }
        sentences.addAll(drift());
        return List.copyOf(sentences);
    }

    private String taught(String head, String what, Optional<AcrossTrials.Learnt> learnt, double usual) {
        if (learnt.isEmpty()) {
            return head + ": no trial shows how " + what + " scatter, so the usual assumption of "
                    + wording.amount(usual) + " stays.";
        }
        AcrossTrials.Learnt l = learnt.get();
        return head + ": as " + count(l.trials(), "trial shows", "trials show") + ", " + what + " scatter by typically "
                + wording.amount(l.typical()) + " (standard deviation), "
                + wording.rangeAndLevel(l.typical()) + ". Trials differ: in the next one it stays below "
                + wording.amount(l.next().quantile(0.95)) + " with that probability; without the archive that would be "
                + wording.amount(l.next().usual().quantile(0.95)) + ".";
    }

    private List<String> drift() {
        List<String> sentences = new ArrayList<>();
        outside(
                circles,
                "circle to circle",
                "Look what was different: grass, ground, driver, full lock, or a slip in the readings.",
                sentences);
        outside(
                readings,
                "reading to reading",
                "Look what was different: who measured, the tape, how well the edge was cut, or a slip in the readings.",
                sentences);
        if (sentences.isEmpty()
                && circles.points().stream().anyMatch(p -> p.expected().isPresent())) {
            sentences.add("No trial scattered by more or less than the trials before it suggest.");
        }
        return sentences;
    }

    private void outside(Drift drift, String what, String look, List<String> sentences) {
        List<String> high = new ArrayList<>();
        List<String> low = new ArrayList<>();
        for (Drift.Point p : drift.out()) {
            Drift.Expected e = p.expected().orElseThrow();
            String text = p.folder() + " on " + p.date() + " (" + wording.amount(p.value()) + ", limit "
                    + wording.amount(p.above() ? e.high() : e.low()) + ")";
            (p.above() ? high : low).add(text);
        }
        if (!high.isEmpty()) {
            sentences.add("Scattered more from " + what + " than the trials before it suggest: " + listed(high) + ". "
                    + look);
        }
        if (!low.isEmpty()) {
            sentences.add("Scattered less from " + what + " than the trials before it suggest: " + listed(low) + ".");
        }
    }

    private static String listed(List<String> names) {
        return names.stream().limit(LISTED).collect(Collectors.joining("; "))
                + (names.size() > LISTED ? "; and " + (names.size() - LISTED) + " more" : "");
    }

    private static String count(int number, String one, String more) {
        return number + " " + (number == 1 ? one : more);
    }

    /** {@return what was left out, a line each} */
    public List<String> warnings() {
        List<String> warnings = new ArrayList<>();
        if (!found.toMend().isEmpty()) {
            warnings.add(count(found.toMend().size(), "folder was", "folders were")
                    + " left out because something has to be mended: " + listed(found.toMend()) + ".");
        }
        if (!found.nothingMeasured().isEmpty()) {
            warnings.add(count(found.nothingMeasured().size(), "folder was", "folders were")
                    + " left out because no circle in it counts: " + listed(found.nothingMeasured()) + ".");
        }
        if (archive.copies() > 0) {
            warnings.add("Circles of " + count(archive.copies(), "machine and drive", "machines and drives")
                    + " were there twice, as in a copy of a folder, and count once.");
        }
        return List.copyOf(warnings);
    }

    Table groupTable() {
        return new Table(
                "Standard deviations by group",
                List.of(
                        "Group",
                        "Trials",
                        "Circles",
                        "Circle to circle, typical",
                        "95 % interval",
                        "Next trial, 95 % below",
                        "Reading to reading, typical",
                        "95 % interval",
                        "Next trial, 95 % below"),
                groups.stream()
                        .map(g -> {
                            List<String> row = new ArrayList<>(List.of(
                                    g.name().isEmpty() ? "all" : g.name(),
                                    Integer.toString(g.trials()),
                                    Integer.toString(g.circles())));
                            row.addAll(cells(g.circle()));
                            row.addAll(cells(g.reading()));
                            return row;
                        })
                        .toList());
    }

    private List<String> cells(Optional<AcrossTrials.Learnt> learnt) {
        return learnt.map(l -> List.of(
                        wording.amount(l.typical()),
                        wording.interval(l.typical()),
                        wording.amount(l.next().quantile(0.95))))
                .orElse(List.of(NONE, NONE, NONE));
    }

    Table trialTable() {
        return new Table(
                "The trials",
                List.of(
                        "Trial",
                        "Date",
                        "Machine",
                        "Drive",
                        "Surface",
                        "Measured by",
                        "Circles",
                        "Circle to circle",
                        "Degrees of freedom",
                        "Reading to reading",
                        "Degrees of freedom"),
                archive.rows().stream().map(this::row).toList());
    }

    private List<String> row(PastTrial row) {
        PastScatter s = row.scatter();
        return List.of(
                row.folder(),
                row.date().toString(),
                row.machine(),
                row.drive().word(),
                row.surface().isEmpty() ? NONE : row.surface(),
                row.measurer().isEmpty() ? NONE : row.measurer(),
                Integer.toString(row.circles()),
                deviation(s.circleSquares(), s.circleDegrees()),
                Integer.toString(s.circleDegrees()),
                deviation(s.readingSquares(), s.readingDegrees()),
                Integer.toString(s.readingDegrees()));
    }

    private String deviation(double squares, int degrees) {
        return degrees == 0 ? NONE : wording.amount(Math.sqrt(squares / degrees));
    }

    Table driftTable(String caption, Drift drift) {
        return new Table(
                caption,
                List.of("Trial", "Date", "Standard deviation", "Degrees of freedom", "Level before", "Limits", ""),
                drift.points().stream()
                        .map(p -> List.of(
                                p.folder(),
                                p.date().toString(),
                                wording.amount(p.value()),
                                Integer.toString(p.degrees()),
                                shown(p, e -> wording.amount(e.level())),
                                shown(p, e -> wording.interval(e.low(), e.high())),
                                p.above() ? "above" : p.below() ? "below" : ""))
                        .toList());
    }

    private static String shown(Drift.Point point, Function<Drift.Expected, String> words) {
        return point.expected().map(words).orElse(NONE);
    }

    /** {@return the table for a terminal, a line each; millimetres} */
    public List<String> table() {
        int width = Math.max(
                "group".length(),
                groups.stream().mapToInt(g -> g.name().length()).max().orElse(0));
        String format = "%-" + width + "s  %6s  %7s  %17s  %10s  %17s  %10s";
        List<String> lines = new ArrayList<>();
        lines.add(String.format(
                Locale.ROOT,
                format,
                "group",
                "trials",
                "circles",
                "circle to circle",
                "next below",
                "reading",
                "next below"));
        for (Archive.Taught g : groups) {
            lines.add(String.format(
                    Locale.ROOT,
                    format,
                    g.name().isEmpty() ? "all" : g.name(),
                    g.trials(),
                    g.circles(),
                    plain(g.circle()),
                    below(g.circle()),
                    plain(g.reading()),
                    below(g.reading())));
        }
        lines.add("Standard deviations in mm: typical (95 % interval), and what 95 % of next trials stay below.");
        return List.copyOf(lines);
    }

    private static String plain(Optional<AcrossTrials.Learnt> learnt) {
        return learnt.map(l -> mm(l.typical().value()) + " (" + mm(l.typical().low()) + " to "
                        + mm(l.typical().high()) + ")")
                .orElse(NONE);
    }

    private static String below(Optional<AcrossTrials.Learnt> learnt) {
        return learnt.map(l -> mm(l.next().quantile(0.95))).orElse(NONE);
    }

    private static String mm(double metres) {
        return Figures.fixed(1000 * metres, 1);
    }

    private Optional<Figure> figure() {
        return DriftChart.draw(
                        List.of(
                                new DriftChart.Panel("Circle to circle", points(circles)),
                                new DriftChart.Panel("Reading to reading", points(readings))),
                        String.join(" ", sentences()),
                        unit)
                .map(d -> new Figure(
                        "How trials scattered, day by day",
                        "Each trial against the level of all trials on earlier days. Limits are wide where a trial or those"
                                + " before it hold few circles.",
                        d));
    }

    private static List<DriftChart.Point> points(Drift drift) {
        return drift.points().stream()
                .map(p -> new DriftChart.Point(
                        p.date(),
                        p.value(),
                        p.expected().map(e -> new DriftChart.Limits(e.low(), e.level(), e.high()))))
                .toList();
    }

    /** {@return the same for programs; lengths in millimetres} */
    public String resultsJson() {
        return ResultsJson.document(json -> new Json(json).write());
    }

    private final class Json {
        private final JsonGenerator json;
        private final ResultsJson parts;

        Json(JsonGenerator json) {
            this.json = json;
            this.parts = new ResultsJson(json, Archive.LEVEL);
        }

        void write() throws IOException {
            json.writeObjectFieldStart("archive");
            json.writeStringField("name", name);
            json.writeNumberField("trials", archive.trials());
            strings("toMend", found.toMend());
            strings("nothingMeasured", found.nothingMeasured());
            json.writeNumberField("copies", archive.copies());
            json.writeEndObject();
            parts.number("confidence", Archive.LEVEL);
            json.writeArrayFieldStart("groups");
            for (Archive.Taught g : groups) {
                json.writeStartObject();
                json.writeStringField("group", g.name());
                json.writeNumberField("trials", g.trials());
                json.writeNumberField("circles", g.circles());
                learnt("circleToCircle", g.circle());
                learnt("reading", g.reading());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeObjectFieldStart("drift");
            drift("circleToCircle", circles);
            drift("reading", readings);
            json.writeEndObject();
            strings("sentences", sentences());
        }

        private void strings(String field, List<String> texts) throws IOException {
            json.writeArrayFieldStart(field);
            for (String text : texts) {
                json.writeString(text);
            }
            json.writeEndArray();
        }

        private void learnt(String field, Optional<AcrossTrials.Learnt> learnt) throws IOException {
            if (learnt.isEmpty()) {
                json.writeNullField(field);
                return;
            }
            AcrossTrials.Learnt l = learnt.get();
            json.writeObjectFieldStart(field);
            json.writeNumberField("trials", l.trials());
            parts.interval("typical", l.typical());
            parts.number("spreadOfLog", l.spread());
            json.writeObjectFieldStart("next");
            parts.length("median", l.next().median());
            parts.number("logSpread", l.next().logSpread());
            parts.number("usualShare", l.next().usualShare());
            parts.length("usualScale", l.next().usual().scale());
            parts.length("below95", l.next().quantile(0.95));
            json.writeEndObject();
            json.writeEndObject();
        }

        private void drift(String field, Drift drift) throws IOException {
            json.writeArrayFieldStart(field);
            for (Drift.Point p : drift.points()) {
                json.writeStartObject();
                json.writeStringField("folder", p.folder());
                json.writeStringField("date", p.date().toString());
                parts.length("standardDeviation", p.value());
                json.writeNumberField("degreesOfFreedom", p.degrees());
                if (p.expected().isPresent()) {
                    parts.length("level", p.expected().get().level());
                    parts.length("low", p.expected().get().low());
                    parts.length("high", p.expected().get().high());
                } else {
                    json.writeNullField("level");
                }
                json.writeBooleanField("outside", p.above() || p.below());
                json.writeEndObject();
            }
            json.writeEndArray();
        }
    }

    /**
     * Writes archive.html, repeatability.csv, results.json and charts/ into a folder, which is made where it is missing; the
     * page comes last.
     *
     * @param folder need not exist
     * @return where archive.html is
     * @throws IOException if a file cannot be written; those written before it are whole
     */
    public Path write(Path folder) throws IOException {
        List<Figure> figures = figure().stream().toList();
        StringOutput page = new StringOutput();
        TemplateEngine.createPrecompiled(null, ContentType.Html, null, "org.fairturn.report.template")
                .render("archive.jte", view(figures), page);
        Path charts = Files.createDirectories(folder).resolve("charts");
        Files.createDirectories(charts);
        for (Figure figure : figures) {
            write(
                    charts.resolve(figure.drawing().name() + ".svg"),
                    figure.drawing().svgFile());
        }
        write(folder.resolve(FILE), ArchiveFile.write(archive.rows()));
        write(folder.resolve("results.json"), resultsJson());
        Path html = folder.resolve("archive.html");
        write(html, page.toString());
        return html;
    }

    private static void write(Path file, String text) throws IOException {
        AtomicFile.write(file, text.getBytes(StandardCharsets.UTF_8));
    }

    private ArchiveView view(List<Figure> figures) {
        return new ArchiveView(
                name,
                sentences().stream().map(Table::keepTogether).toList(),
                warnings(),
                figures,
                List.of(
                        groupTable(),
                        driftTable("From circle to circle, trial by trial", circles),
                        driftTable("From reading to reading, trial by trial", readings)),
                ArchiveView.METHOD,
                List.of(trialTable()));
    }
}
