package org.fairturn.web;

import io.javalin.http.Context;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Warning;
import org.fairturn.folder.Note;
import org.fairturn.folder.TrialFolder;
import org.fairturn.report.Cautions;
import org.fairturn.report.TrialReport;

/** What a trial shows: findings, the report, and files to take along. */
public final class ResultPages {
    /** The report carries its style in itself; it has no scripts. */
    private static final String REPORT_POLICY =
            "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

    private final Trials trials;
    private final Pages pages;

    ResultPages(Trials trials, Pages pages) {
        this.trials = trials;
        this.pages = pages;
    }

    /**
     * Findings in words.
     *
     * @param sentences in the order of the report; empty where the trial cannot be analysed yet
     */
    public record FindingsView(List<String> sentences, List<String> warnings, List<String> cautions) {}

    void findings(Context context) {
        Path folder = trials.of(context);
        Optional<TrialReport> report = report(folder);
        pages.show(
                context,
                "findings",
                "Findings",
                TrialPages.named(context, folder),
                "findings",
                new FindingsView(
                        report.map(TrialReport::sentences).orElse(List.of()),
                        report.map(TrialReport::warnings).orElse(List.of()),
                        Cautions.ALL));
    }

    private static Optional<TrialReport> report(Path folder) {
        return TrialFolder.read(folder)
                .fold(
                        read -> Optional.of(TrialReport.of(Analysis.of(read.trial()), warnings(read.notes()))),
                        faulty -> Optional.empty());
    }

    private static List<Warning> warnings(List<Note> notes) {
        return notes.stream()
                .map(note -> new Warning("folder", note.where(), note.text()))
                .toList();
    }

    private static TrialReport ready(Path folder) {
        return report(folder)
                .orElseThrow(() -> new Refusal(
                        409,
                        "There is no report yet",
                        "Something in the trial has to be filled in or mended first; its overview lists what."));
    }

    void report(Context context) {
        String html = ready(trials.of(context)).html();
        context.header("Content-Security-Policy", REPORT_POLICY).html(html);
    }

    /** A file by its name in a fixed list. */
    void file(Context context) {
        Path folder = trials.of(context);
        String name = context.pathParam("name");
        switch (name) {
            case "results.json" ->
                send(context, name, "application/json", bytes(ready(folder).resultsJson()));
            case "results.csv" ->
                send(
                        context,
                        name,
                        "text/csv; charset=utf-8",
                        bytes(ready(folder).resultsCsv()));
            default -> {
                String known = TrialFolder.fileNames().stream()
                        .filter(name::equals)
                        .findFirst()
                        .orElseThrow(Refusal::noSuchPage);
                send(context, known, "text/csv; charset=utf-8", content(folder.resolve(known)));
            }
        }
    }

    private static byte[] bytes(String text) {
        return text.getBytes(java.nio.charset.StandardCharsets.UTF_8);
    }

    private static byte[] content(Path file) {
        try {
            return Files.readAllBytes(file);
        } catch (IOException missing) {
            throw new Refusal(404, "The trial has no such file", "The overview lists those that are there.");
        }
    }

    private static void send(Context context, String name, String type, byte[] content) {
        context.contentType(type)
                .header("Content-Disposition", "attachment; filename=\"" + name + "\"")
                .result(content);
    }
}
