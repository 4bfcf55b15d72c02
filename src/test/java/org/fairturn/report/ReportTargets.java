package org.fairturn.report;

import static org.fairturn.Fuzzing.promise;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.fairturn.Fuzzing;
import org.fairturn.finding.Analysis;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;

/** What a report is held against, and a report of whatever was understood. */
public final class ReportTargets {
    private static final ObjectMapper JSON = new ObjectMapper();

    private ReportTargets() {}

    /** The results a bundle brought. */
    public static boolean results(TakenTrial trial, TrialReport report, byte[] input) {
        String text = new String(input, StandardCharsets.UTF_8);
        BundleAgreement agreement = BundleAgreement.of(
                        new TakenTrial(trial.read(), trial.files(), Map.of("results.json", text)), report)
                .orElseThrow();
        promise(agreement.compared() && agreement.same() == agreement.warnings().isEmpty(), "same or not");
        for (String sentence : agreement.sentences()) {
            promise(!sentence.isBlank() && sentence.chars().noneMatch(Character::isISOControl), "a line: " + sentence);
            promise(sentence.length() < 2_000, "a sentence people can read");
            Fuzzing.neverATrace(sentence, text);
        }
        return agreement.same();
    }

    /** repeatability.csv of an archive: what is read of it reads back from what is written of that. */
    public static boolean archive(Path folder, byte[] input) throws IOException {
        Path file = Files.write(folder.resolve("repeatability.csv"), input);
        ArchiveFile.Read read = ArchiveFile.read(file);
        String text = new String(input, StandardCharsets.UTF_8);
        read.problems().forEach(problem -> {
            promise(!problem.what().isEmpty() && !problem.accepted().isBlank(), "what and what instead: " + problem);
            promise(problem.row() >= 0 && !problem.file().isEmpty(), "where: " + problem);
            Fuzzing.neverATrace(problem.message(), text);
        });
        Files.writeString(file, ArchiveFile.write(read.rows()));
        ArchiveFile.Read again = ArchiveFile.read(file);
        promise(again.problems().isEmpty(), "what is written can be read: " + again.problems());
        promise(again.rows().size() == read.rows().size(), "every row");
        for (int i = 0; i < read.rows().size(); i++) {
            promise(again.rows().get(i).folder().equals(read.rows().get(i).folder()), "the folder");
            promise(again.rows().get(i).machine().equals(read.rows().get(i).machine()), "the machine");
            promise(again.rows().get(i).date().equals(read.rows().get(i).date()), "the date");
        }
        return read.problems().isEmpty();
    }

    /** A folder one of whose files is these bytes: where it is read, it is analysed and shown in every form. */
    public static boolean whole(Path folder, String file, byte[] input) throws IOException {
        Path changed = folder.resolve(file);
        byte[] before = Files.readAllBytes(changed);
        Files.write(changed, input);
        try {
            TrialRead read = TrialFolder.read(folder);
            if (!(read instanceof TrialRead.Complete complete)) {
                return false;
            }
            String text = new String(input, StandardCharsets.UTF_8);
            TrialReport report =
                    TrialReport.of(Analysis.of(complete.trial()), TrialReport.asWarnings(complete.notes()));
            shown(report, text);
            return true;
        } finally {
            Files.write(changed, before);
        }
    }

    private static void shown(TrialReport report, String input) throws IOException {
        JSON.readTree(report.resultsJson());
        for (String form : List.of(report.html(), report.resultsJson(), report.resultsCsv())) {
            promise(!form.contains("NaN") || input.contains("NaN"), "numbers, not NaN");
            promise(!form.contains("Infinity") || input.contains("Infinity"), "numbers, not Infinity");
            Fuzzing.neverATrace(form, input);
        }
        promise(!report.html().toLowerCase(Locale.ROOT).contains("<script"), "nothing to run");
    }
}
