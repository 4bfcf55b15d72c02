package org.fairturn.web;

import static org.fairturn.Fuzzing.promise;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.fairturn.Fuzzing;
import org.fairturn.Skeleton;
import org.fairturn.folder.FolderTargets;
import org.fairturn.folder.TrialFile;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;

/**
 * Bytes sent to a running server over one connection. What only that server knows stands in them as {@link #PORT},
 * {@link #NAME} and {@link #TOKEN}, so that an input that once failed fails another day too.
 */
final class RequestTargets {
    static final String PORT = "{port}";
    /** As long as what stands for it: a form stays as long as its head says. */
    static final String NAME = "the-name-of-a-visitor-";

    static final String TOKEN = "the-token-of-a-visitor---------------------";
    /** What was not sent by any page of ours; an element or attribute of a page must never be called so. */
    static final String MARK = "zq";

    private static final int PATIENCE_MILLIS = 8_000;
    private static final Set<Integer> UNKNOWN_PROTOCOL = Set.of(501, 505);
    private static final String OUTSIDE = "kept outside the trials";
    private static final Pattern TRIAL = Pattern.compile("[\\p{L}\\p{M}\\p{Nd}-]{1,64}");
    private static final Pattern FILE = Pattern.compile(
            "(trial|machines|blades|stops|circles|readings|points|claims|references|removed)\\.csv|\\.fairturn\\.lock");
    /** Cells a form sends: of a row, of the machine with its blades and stops, of a reading, and facts. */
    private static final Pattern CELL = Pattern.compile("(cell|machine|blade[0-9]+|stop[0-9]+|circle)\\.([a-z ]+)");

    private static final Set<String> READING =
            Set.of("kind", "value", "second", "third", "bearing", "measurer", "remark");

    /** To a spreadsheet as to the readers of a folder: nothing. */
    private static final Pattern BLANK = Pattern.compile("[\\s\\p{Z}\\p{Cf}]*");

    private final Served served;
    private final Path trials;
    private final InetAddress at;
    private final String name;
    private final String token;
    private final Map<Path, byte[]> sound = new TreeMap<>();

    private RequestTargets(Served served, Path trials, InetAddress at) throws IOException {
        this.served = served;
        this.trials = trials;
        this.at = at;
        var page = served.get("/convert");
        this.name = page.headers().firstValue("Set-Cookie").orElseThrow().replaceAll(".*?=([^;]*);.*", "$1");
        this.token = served.token("/trial/demo/facts");
        Files.writeString(trials.resolveSibling("outside.csv"), OUTSIDE);
        for (Path file : files()) {
            sound.put(file, Files.readAllBytes(file));
        }
    }

    /** A visitor of this machine; the folder of the trials lies alone in another one. */
    static RequestTargets of(Served served, Path trials) throws IOException {
        return new RequestTargets(served.sameServer(), trials, InetAddress.getLoopbackAddress());
    }

    /** Somebody in the network who was not let in. */
    static RequestTargets stranger(Served served, Path trials, InetAddress at) throws IOException {
        return new RequestTargets(served.sameServer(), trials, at);
    }

    private List<Path> files() throws IOException {
        try (Stream<Path> all = Files.walk(trials)) {
            return all.filter(Files::isRegularFile).toList();
        }
    }

    /**
     * Whatever is sent, what comes back is answers without anything of the program in them, or nothing; what is saved can be
     * read, and lies where it belongs.
     */
    boolean connection(byte[] input) throws IOException {
        String sent = sent(input);
        try {
            List<Answer> answers = answers(sent);
            boolean mended = answers.stream().noneMatch(answer -> answer.status() == 503) || isFaulty();
            promise(mended, "no reading waits for a folder that is sound");
            answers.forEach(answer -> answer(answer, sent));
            List<Answer> last = answers.stream().filter(a -> a.status() >= 200).toList();
            // what follows a request that cannot be read is answered 400, more than once, or not
            long answered = last.stream().filter(a -> a.status() != 400).count();
            promise(
                    answered <= 1 + count(sent.toLowerCase(Locale.ROOT), "http/"),
                    "an answer to each request: " + answered);
            if (sent.contains("POST")) {
                onlyTrials(sent);
                if (last.size() == 1 && last.get(0).status() == 303 && count(sent, " HTTP/") == 1) {
                    stored(sent);
                }
            }
            return last.stream().anyMatch(answer -> answer.status() < 400);
        } finally {
            asBefore();
        }
    }

    /** Who was not let in is shown the door, the style of its page, and nothing of any trial. */
    boolean strangers(byte[] input) throws IOException {
        String sent = sent(input);
        List<Answer> answers = answers(sent);
        for (Answer answer : answers) {
            answer(answer, sent);
            boolean door = answer.body().isEmpty() || answer.body().contains("action=\"/enter\"");
            boolean style = answer.is("text/css") || answer.is("text/javascript");
            boolean away = answer.status() == 302 && answer.header("location").endsWith("/enter");
            promise(answer.status() >= 400 || door || style || away, "the door, and nothing else: " + answer);
            promise(!answer.body().contains("Alder") || sent.contains("Alder"), "nothing of any trial");
        }
        onlyTrials(sent);
        for (Map.Entry<Path, byte[]> file : sound.entrySet()) {
            promise(Arrays.equals(file.getValue(), Files.readAllBytes(file.getKey())), "no file changes");
        }
        promise(files().size() == sound.size(), "no file is made");
        return answers.stream().anyMatch(answer -> answer.status() < 400);
    }

    private String sent(byte[] input) {
        return sent(new String(input, StandardCharsets.ISO_8859_1));
    }

    String sent(String input) {
        String port = String.valueOf(served.server().port());
        return input.replace(PORT, port).replace(NAME, name).replace(TOKEN, token);
    }

    /** Whatever was sent, it is answered like this. */
    static void answer(Answer answer, String sent) {
        int code = answer.status();
        promise(
                code < 500 || code == 503 || UNKNOWN_PROTOCOL.contains(code),
                "no fault of the program's own: " + answer);
        for (String line : answer.headers()) {
            String header = line.toLowerCase(Locale.ROOT);
            promise(!header.startsWith("server:") && !header.startsWith(MARK), "no such header: " + line);
            promise(
                    !header.startsWith("set-cookie:")
                            || line.matches("(?i)set-cookie: fairturn-[0-9]+=[A-Za-z0-9_-]{22};.*"),
                    line);
        }
        if (answer.is("text/html") || answer.is("image/svg+xml")) {
            promise(answer.header("x-content-type-options").equals("nosniff"), "a type that is not guessed");
            String policy = answer.header("content-security-policy");
            promise(
                    policy.equals(Guard.POLICY)
                            || policy.startsWith("default-src 'none'; style-src 'unsafe-inline'; img-src data:;"),
                    "a page has its policy: " + policy);
            Skeleton.of(answer.body())
                    .forEach(element -> promise(!element.contains(MARK), "nothing that was sent: " + element));
        }
        if (answer.is("text/html") || answer.is("text/plain")) {
            Fuzzing.neverATrace(answer.body(), sent);
        }
        promise(!answer.body().contains(OUTSIDE) && !answer.body().contains("root:x:"), "no file from elsewhere");
    }

    private static int count(String text, String part) {
        return (text.length() - text.replace(part, "").length()) / part.length();
    }

    private boolean isFaulty() {
        return TrialFolder.read(trials.resolve("demo")) instanceof TrialRead.Faulty;
    }

    /** In the folder of the trials lie trials, whose files can be read; outside of it nothing has changed. */
    private void onlyTrials(String sent) throws IOException {
        try (Stream<Path> beside = Files.list(trials.getParent())) {
            promise(beside.count() == 2, "nothing is made elsewhere");
        }
        promise(Files.readString(trials.resolveSibling("outside.csv")).equals(OUTSIDE), "nothing is changed elsewhere");
        try (Stream<Path> folders = Files.list(trials)) {
            for (Path folder : folders.toList()) {
                promise(TRIAL.matcher(folder.getFileName().toString()).matches(), "a folder's name: " + folder);
                try (Stream<Path> files = Files.list(folder)) {
                    files.forEach(file -> promise(
                            FILE.matcher(file.getFileName().toString()).matches() && Files.isRegularFile(file),
                            "a file of a trial: " + file));
                }
                FolderTargets.understood(TrialFolder.read(folder), sent);
            }
        }
    }

    /** Each cell that was typed and acknowledged stands in a file. */
    private void stored(String sent) throws IOException {
        Map<String, String> fields = fields(sent.substring(sent.indexOf("\r\n\r\n") + 4));
        if (fields.containsKey("out")
                || sent.startsWith("POST /enter")
                || sent.contains("/undo ")
                || sent.contains("/plan ")) {
            return;
        }
        Set<String> cells = new HashSet<>();
        for (Path file : files()) {
            try (CSVParser rows = CSVParser.parse(file, StandardCharsets.UTF_8, CSVFormat.RFC4180)) {
                rows.stream().flatMap(CSVRecord::stream).map(String::strip).forEach(cells::add);
            }
        }
        boolean reading = sent.contains("/readings ");
        boolean facts = sent.startsWith("POST /new ") || sent.contains("/facts ");
        fields.forEach((field, typed) -> {
            Matcher cell = CELL.matcher(field);
            boolean column = cell.matches()
                    && !reading
                    && (cell.group(1).equals("cell") || fields.containsKey(cell.group(1) + ".key"))
                    && Stream.of(TrialFile.values())
                            .anyMatch(file -> file.columns().contains(cell.group(2)));
            boolean plain = (reading && READING.contains(field))
                    || (facts
                            && TrialForm.FIELDS.stream()
                                    .anyMatch(one -> one.name().equals(field)));
            boolean changed = !typed.equals(fields.getOrDefault("was:" + field, ""));
            if (!BLANK.matcher(typed).matches() && changed && (column || plain)) {
                promise(cells.contains(typed), "what was acknowledged is stored: " + field + " = " + typed);
            }
        });
    }

    /** As the server reads them: the first of each name, without blanks around it. */
    private static Map<String, String> fields(String body) {
        Map<String, String> fields = new LinkedHashMap<>();
        for (String pair : body.split("&", -1)) {
            String[] parts = pair.split("=", 2);
            try {
                fields.putIfAbsent(
                        decoded(parts[0]), parts.length > 1 ? decoded(parts[1]).strip() : "");
            } catch (IllegalArgumentException escapedWrongly) {
                // the server leaves it out, too
            }
        }
        return fields;
    }

    private static String decoded(String text) {
        String raw = new String(text.getBytes(StandardCharsets.ISO_8859_1), StandardCharsets.UTF_8);
        return URLDecoder.decode(raw, StandardCharsets.UTF_8);
    }

    /** So that what one input changed is nothing to the next. */
    void asBefore() throws IOException {
        try (Stream<Path> all = Files.walk(trials)) {
            for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
                boolean folder = Files.isDirectory(path);
                if (folder
                        ? sound.keySet().stream().noneMatch(file -> file.startsWith(path))
                        : !sound.containsKey(path)) {
                    Files.delete(path);
                }
            }
        }
        for (Map.Entry<Path, byte[]> file : sound.entrySet()) {
            if (!Files.exists(file.getKey()) || !Arrays.equals(file.getValue(), Files.readAllBytes(file.getKey()))) {
                Files.write(file.getKey(), file.getValue());
            }
        }
    }

    private List<Answer> answers(String sent) {
        return heard(sent).answers();
    }

    /**
     * What came back over a connection.
     *
     * @param whole whether the server ended it, so that the last answer is not cut short
     */
    record Heard(String bytes, boolean whole) {
        List<Answer> answers() {
            return Answer.all(bytes, whole);
        }
    }

    /** All that comes back until the server ends the connection or says no more. */
    Heard heard(String sent) {
        StringBuilder all = new StringBuilder();
        boolean whole = false;
        try (Socket socket = new Socket(at, served.server().port())) {
            socket.setSoTimeout(PATIENCE_MILLIS);
            try {
                socket.getOutputStream().write(sent.getBytes(StandardCharsets.ISO_8859_1));
                socket.shutdownOutput();
                InputStream in = socket.getInputStream();
                byte[] part = new byte[1 << 16];
                for (int n = in.read(part); n > 0; n = in.read(part)) {
                    all.append(new String(part, 0, n, StandardCharsets.ISO_8859_1));
                }
                whole = true;
            } catch (SocketTimeoutException restsForMore) {
                // it waits for the rest of a request, as it should
            } catch (IOException ended) {
                // refused before all of it was sent
            }
        } catch (IOException nobodyListens) {
            throw new UncheckedIOException(nobodyListens);
        }
        return new Heard(all.toString(), whole);
    }
}
