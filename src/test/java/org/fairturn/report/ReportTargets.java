package org.fairturn.report;

import static org.fairturn.Fuzzing.promise;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilder;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.fairturn.Fuzzing;
import org.fairturn.Skeleton;
import org.fairturn.finding.Analysis;
import org.fairturn.folder.FolderTargets;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialFile;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.xml.sax.SAXException;

/** What a report is held against, and a report of whatever was understood. */
public final class ReportTargets {
    /** What no element and no attribute of ours is called. */
    static final String MARK = "zq";

    private static final ObjectMapper JSON = new ObjectMapper();
    static final String HEADING = "=== ";

    private ReportTargets() {}

    /** The results a bundle brought. */
    public static boolean results(TakenTrial trial, TrialReport report, byte[] input) {
        String text = new String(input, StandardCharsets.UTF_8);
        BundleAgreement agreement = BundleAgreement.of(
                        new TakenTrial(trial.read(), trial.files(), Map.of("results.json", text)), report)
                .orElseThrow();
        promise(agreement.compared() && agreement.same() == agreement.warnings().isEmpty(), "same or not");
        said(agreement, text);
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

    /** Whatever a zip holds that was a bundle: a trial with what differs from its results, or a message. */
    public static boolean bundle(Path folder, Map<Integer, TrialReport> known, byte[] input) throws IOException {
        if (!FolderTargets.bundle(folder, input)) {
            return false;
        }
        TakenTrial taken = TrialFolder.take(folder.resolve("given.zip"));
        int content = taken.files().values().stream().mapToInt(Arrays::hashCode).reduce(0, (a, b) -> 31 * a + b);
        if (!(taken.read() instanceof TrialRead.Complete complete)) {
            throw new AssertionError("read twice, it is the same");
        }
        TrialReport report = known.computeIfAbsent(content, files -> reported(complete));
        BundleAgreement.of(taken, report)
                .ifPresent(agreement -> said(agreement, new String(input, StandardCharsets.UTF_8)));
        return true;
    }

    private static void said(BundleAgreement agreement, String input) {
        promise(agreement.compared() || agreement.same(), "what was not compared does not differ");
        for (String sentence : agreement.sentences()) {
            promise(!sentence.isBlank() && sentence.chars().noneMatch(Character::isISOControl), "a line: " + sentence);
            promise(sentence.length() < 2_000, "a sentence people can read");
            Fuzzing.neverATrace(sentence, input);
        }
    }

    static TrialReport reported(TrialRead.Complete complete) {
        return TrialReport.of(Analysis.of(complete.trial()), TrialReport.asWarnings(complete.notes()));
    }

    /** A folder's files one behind the other, each under a line with its name. */
    static String joined(Path folder) throws IOException {
        StringBuilder all = new StringBuilder();
        for (TrialFile file : TrialFile.values()) {
            Path path = folder.resolve(file.fileName());
            if (Files.exists(path)) {
                all.append(HEADING).append(file.fileName()).append('\n').append(Files.readString(path));
            }
        }
        return all.toString();
    }

    /** A folder one of whose files is these bytes: where it is read, it is analysed and shown in every form. */
    public static boolean whole(Path folder, String file, byte[] input) throws IOException {
        Path changed = folder.resolve(file);
        byte[] before = Files.readAllBytes(changed);
        Files.write(changed, input);
        try {
            return read(folder, input, ReportTargets::shown);
        } finally {
            Files.write(changed, before);
        }
    }

    /** The files of {@link #joined}, changed in any way: where they are read, they are analysed and shown in every form. */
    public static boolean folder(Path folder, byte[] input) throws IOException {
        unjoined(folder, input);
        return read(folder, input, ReportTargets::shown);
    }

    /** The same as a PDF, as the picture of the leading findings and as every drawing. */
    public static boolean printed(Path folder, byte[] input) throws IOException {
        unjoined(folder, input);
        return read(folder, input, ReportTargets::drawn);
    }

    private static void unjoined(Path folder, byte[] input) throws IOException {
        for (TrialFile file : TrialFile.values()) {
            Files.deleteIfExists(folder.resolve(file.fileName()));
        }
        for (String part : new String(input, StandardCharsets.ISO_8859_1).split(Pattern.quote(HEADING), -1)) {
            for (TrialFile file : TrialFile.values()) {
                String line = file.fileName() + "\n";
                if (part.startsWith(line)) {
                    Files.writeString(
                            folder.resolve(file.fileName()),
                            part.substring(line.length()),
                            StandardCharsets.ISO_8859_1);
                }
            }
        }
    }

    private interface Form {
        void of(TrialReport report, String input) throws IOException;
    }

    private static boolean read(Path folder, byte[] input, Form form) throws IOException {
        String text = new String(input, StandardCharsets.UTF_8);
        TrialRead read = TrialFolder.read(folder);
        if (!FolderTargets.understood(read, text)) {
            return false;
        }
        form.of(reported((TrialRead.Complete) read), text);
        return true;
    }

    private static void shown(TrialReport report, String input) throws IOException {
        numbers(JSON.readTree(report.resultsJson()), input);
        for (String form : List.of(report.html(), report.resultsJson(), report.resultsCsv())) {
            promise(!form.contains("NaN") || input.contains("NaN"), "numbers, not NaN");
            promise(!form.contains("Infinity") || input.contains("Infinity"), "numbers, not Infinity");
            Fuzzing.neverATrace(form, input);
        }
        texts(report.html());
        try (CSVParser rows = CSVParser.parse(report.resultsCsv(), CSVFormat.RFC4180)) {
            promise(rows.stream().mapToInt(CSVRecord::size).distinct().count() == 1, "as many cells in each row");
        }
    }

    private static void numbers(JsonNode node, String input) {
        promise(!node.isNumber() || Double.isFinite(node.doubleValue()), "a number: " + node);
        promise(
                !node.isTextual() || !node.textValue().matches("-?(NaN|Infinity)") || input.contains(node.textValue()),
                "a number: " + node);
        node.forEach(inner -> numbers(inner, input));
    }

    /** Nothing of what was written in the files is an element or an attribute, or runs. */
    private static void texts(String page) {
        Skeleton.of(page)
                .forEach(element -> promise(
                        !element.contains(MARK) && !element.startsWith("script"),
                        "a text, and nothing else: " + element));
    }

    private static void drawn(TrialReport report, String input) throws IOException {
        for (String name : report.drawingFiles()) {
            byte[] file = report.drawingFile(name).orElseThrow();
            if (name.endsWith(".svg")) {
                drawing(new String(file, StandardCharsets.UTF_8));
            }
        }
        for (Map.Entry<String, byte[]> file : report.cardFiles().entrySet()) {
            String text = new String(file.getValue(), StandardCharsets.UTF_8);
            if (file.getKey().endsWith(".svg")) {
                drawing(text);
            } else if (file.getKey().endsWith(".txt")) {
                Fuzzing.neverATrace(text, input);
            }
        }
        try (PDDocument pdf = Loader.loadPDF(report.pdf())) {
            promise(pdf.getNumberOfPages() > 0, "a page");
        }
    }

    private static void drawing(String svg) throws IOException {
        try {
            DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
            factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
            factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
            DocumentBuilder builder = factory.newDocumentBuilder();
            builder.setErrorHandler(null); // it would write to standard error
            builder.parse(new ByteArrayInputStream(svg.getBytes(StandardCharsets.UTF_8)));
        } catch (SAXException | ParserConfigurationException broken) {
            throw new AssertionError("a drawing that cannot be read", broken);
        }
        texts(svg);
        promise(!svg.contains("NaN") && !svg.contains("Infinity"), "places on the paper");
    }
}
