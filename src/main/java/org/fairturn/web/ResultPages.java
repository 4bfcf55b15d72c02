package org.fairturn.web;

import io.javalin.http.Context;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.fairturn.chart.Drawing;
import org.fairturn.folder.Bundle;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialZip;
import org.fairturn.report.Cautions;
import org.fairturn.report.ReportView;
import org.fairturn.report.TrialReport;

/** What a trial shows: findings, as measured and with something tried, the report, and files to take along. */
public final class ResultPages {
    /** The report carries its style in itself, as drawings do; neither has scripts. */
    private static final String REPORT_POLICY =
            "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

    private static final String CSV = "text/csv; charset=utf-8";
    /** Its encoding stands in the file; with it here too, drawings would go over the wire uncompressed. */
    private static final String SVG = "image/svg+xml";

    private final Trials trials;
    private final Pages pages;
    private final Reports reports;

    ResultPages(Trials trials, Pages pages, Reports reports) {
        this.trials = trials;
        this.pages = pages;
        this.reports = reports;
    }

    /**
     * Findings.
     *
     * @param style address of the style of this page
     * @param address of this page without anything tried
     * @param lengths what can be tried
     * @param circles which can be left out
     * @param tried what is tried, a sentence each; empty where nothing is
     * @param changes what is another with it
     * @param told how many verdicts change, in a sentence; empty where nothing is tried
     * @param faulty whether something that was to be tried could not be read
     * @param parts of the report, HTML
     * @param files what can be taken along
     */
    public record FindingsView(
            String style,
            String address,
            List<Field> lengths,
            List<WhatIfForm.Group> circles,
            List<String> tried,
            List<String> changes,
            String told,
            boolean faulty,
            String parts,
            FilesView files) {
        /** {@return whether circles are left out of what is shown} */
        public boolean leavesOut() {
            return circles.stream().flatMap(group -> group.circles().stream()).anyMatch(WhatIfForm.Choice::out);
        }
    }

    /**
     * Files to take along.
     *
     * @param trial as its pages name it
     * @param analysable whether there are results
     * @param bundle what the file to hand over is called
     * @param sheets of the trial folder
     * @param drawings names of their files; empty where they are not listed
     * @param learnt whether past trials have a part in the results
     */
    public record FilesView(
            Page.Trial trial,
            boolean analysable,
            String bundle,
            List<String> sheets,
            List<String> drawings,
            boolean learnt) {}

    /**
     * A page that has nothing to show yet.
     *
     * @param cautions before anyone goes out, a sentence each
     */
    public record NothingView(List<String> cautions) {}

    void findings(Context context) {
        whereReady(context, (folder, trial, ready) -> findings(context, folder, trial, ready));
    }

    /** What a page shows once there are results. */
    private interface Shown {
        void of(Path folder, Page.Trial trial, Reports.Ready ready);
    }

    /** A trial without results yet has a page that says what is next instead. */
    private void whereReady(Context context, Shown shown) {
        Path folder = trials.of(context);
        Page.Trial trial = TrialPages.named(context, folder);
        reports.read(folder)
                .ifPresentOrElse(
                        ready -> shown.of(folder, trial, ready),
                        () -> pages.show(
                                context, "nothing", "Findings", trial, "findings", new NothingView(Cautions.ALL)));
    }

    private void findings(Context context, Path folder, Page.Trial trial, Reports.Ready ready) {
        WhatIfForm form = WhatIfForm.of(context, ready.trial());
        boolean faulty = !form.faults().isEmpty();
        boolean tries = !faulty && !form.whatIf().isNothing();
        TrialReport measured = reports.of(ready);
        TrialReport shown = tries ? reports.of(ready, form.whatIf()) : measured;
        List<String> changes = tries ? shown.changesAgainst(measured) : List.of();
        String query = tries ? form.query() : "";
        if (!faulty) {
            context.header("HX-Push-Url", trial.page("findings") + query);
        }
        pages.show(
                context,
                "findings",
                "Findings",
                Optional.of(trial),
                "findings",
                form.faults(),
                new FindingsView(
                        pages.asset("findings.css"),
                        trial.page("findings"),
                        form.lengths(),
                        form.circles(),
                        tries ? form.whatIf().sentences(ready.trial()) : List.of(),
                        changes,
                        tries ? told(changes.size() - 1) : "",
                        faulty,
                        shown.parts(
                                new ReportView.Linked(
                                        trial.page("chart"),
                                        (query.isEmpty() ? "?" : query + "&") + "version=" + ready.version()),
                                tries ? Optional.of(measured) : Optional.empty()),
                        new FilesView(
                                trial,
                                true,
                                Bundle.nameOf(folder) + ".zip",
                                sheets(folder),
                                measured.drawingFiles(),
                                !measured.analysis().trial().equals(ready.trial()))));
    }

    private static String told(int changed) {
        return changed == 0
                ? "With this no verdict changes."
                : changed == 1 ? "With this 1 verdict changes." : "With this " + changed + " verdicts change.";
    }

    static List<String> sheets(Path folder) {
        return TrialFolder.sheets(folder).sheets().stream()
                .map(sheet -> sheet.file())
                .toList();
    }

    /** A drawing of the findings. Its address holds the version of the folder, so that browsers may keep it. */
    void chart(Context context) {
        Reports.Ready ready = ready(trials.of(context));
        WhatIfForm form = WhatIfForm.of(context, ready.trial());
        String name = context.pathParam("name");
        TrialReport report = reports.of(ready, form.whatIf());
        byte[] drawing = (name.equals("card.svg")
                        ? Optional.of(report.cardFiles().get(name))
                        : report.drawingFile(name).filter(found -> name.endsWith(".svg")))
                .orElseThrow(Refusal::noSuchPage);
        if (ready.version().equals(context.queryParam("version"))) {
            context.header("Cache-Control", "private, max-age=31536000, immutable");
        }
        context.header("Content-Security-Policy", REPORT_POLICY)
                .contentType(SVG)
                .result(drawing);
    }

    private Reports.Ready ready(Path folder) {
        return reports.read(folder)
                .orElseThrow(() -> new Refusal(
                        409,
                        "There is no report yet",
                        "Something in the trial has to be filled in or mended first; its page \"The data looked"
                                + " through\" lists what."));
    }

    private TrialReport measured(Path folder) {
        return reports.of(ready(folder));
    }

    void report(Context context) {
        String html = measured(trials.of(context)).html();
        context.header("Content-Security-Policy", REPORT_POLICY).html(html);
    }

    /** A file by its name in a fixed list. */
    void file(Context context) {
        Path folder = trials.of(context);
        String name = context.pathParam("name");
        switch (name) {
            case "report.html" ->
                send(
                        context,
                        name,
                        "text/html; charset=utf-8",
                        bytes(measured(folder).html()));
            case "results.json" ->
                send(context, name, "application/json", bytes(measured(folder).resultsJson()));
            case "results.csv" ->
                send(context, name, CSV, bytes(measured(folder).resultsCsv()));
            case "report.pdf" -> send(context, name, "application/pdf", reports.printed(ready(folder)));
            case "card.svg" -> send(context, name, SVG, card(folder, name));
            case "card.png" -> send(context, name, "image/png", card(folder, name));
            case "card.txt" -> send(context, name, "text/plain; charset=utf-8", card(folder, name));
            case "bundle.zip" -> {
                ready(folder);
                byte[] bundle = reports.bundled(folder)
                        .orElseThrow(() -> new Refusal(
                                409, "Somebody is saving into this trial just now", "Try again in a moment."));
                send(context, Bundle.nameOf(folder) + ".zip", "application/zip", bundle);
            }
            case "trial.zip" ->
                send(context, context.pathParam("trial") + "-files.zip", "application/zip", TrialZip.of(folder));
            default -> {
                String known = TrialFolder.fileNames().stream()
                        .filter(name::equals)
                        .findFirst()
                        .orElseThrow(Refusal::noSuchPage);
                send(context, known, CSV, content(folder, known));
            }
        }
    }

    /** A drawing as a file, under the name the report's folder has it. */
    void drawing(Context context) {
        String name = context.pathParam("name");
        TrialReport report = measured(trials.of(context));
        String known =
                report.drawingFiles().stream().filter(name::equals).findFirst().orElseThrow(Refusal::noSuchPage);
        send(
                context,
                known,
                known.endsWith(".svg") ? SVG : "image/png",
                report.drawingFile(known).orElseThrow());
    }

    private byte[] card(Path folder, String name) {
        return Optional.ofNullable(measured(folder).cardFiles().get(name))
                .orElseThrow(() -> new Refusal(
                        404,
                        "The picture cannot be drawn as " + name + " on this machine",
                        "Install a font, for example the package fonts-dejavu-core, or take card.svg."));
    }

    /**
     * The leading findings in one picture.
     *
     * @param image its address
     * @param width in the units of the picture
     * @param height in the same units
     * @param words what it says, for those who do not see it
     * @param png whether it is there as PNG too
     * @param cautions that go with every picture handed on
     */
    public record CardView(String image, int width, int height, String words, boolean png, List<String> cautions) {}

    void card(Context context) {
        whereReady(context, (folder, trial, ready) -> card(context, trial, ready));
    }

    private void card(Context context, Page.Trial trial, Reports.Ready ready) {
        Drawing card = reports.of(ready).card();
        pages.show(
                context,
                "card",
                "Result card",
                trial,
                "findings",
                new CardView(
                        trial.page("chart/card.svg") + "?version=" + ready.version(),
                        card.width(),
                        card.height(),
                        card.description(),
                        card.png().isPresent(),
                        Cautions.ALL));
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    /** Whatever its letter case on disk, and no more of it than a trial may hold. */
    private static byte[] content(Path folder, String name) {
        return Optional.ofNullable(TrialFolder.take(folder).files().get(name))
                .orElseThrow(() ->
                        new Refusal(404, "The trial has no such file", "The overview lists those that are there."));
    }

    static void send(Context context, String name, String type, byte[] content) {
        String plain = name.replaceAll("[^A-Za-z0-9._ -]", "_");
        String whole = plain.equals(name)
                ? ""
                : "; filename*=UTF-8''"
                        + URLEncoder.encode(name, StandardCharsets.UTF_8).replace("+", "%20");
        context.contentType(type)
                .header("Content-Disposition", "attachment; filename=\"" + plain + "\"" + whole)
                .result(content);
    }
}
