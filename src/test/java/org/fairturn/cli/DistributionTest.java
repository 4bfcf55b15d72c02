package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** The zip people download, unpacked where names have blanks. The build runs these tests in its phase verify. */
@DisabledOnOs(OS.WINDOWS)
class DistributionTest {
    private static final Map<String, String> NO_ARCHIVE = Map.of("FAIRTURN_ARCHIVE", "off");

    @TempDir
    private static Path above;

    @TempDir
    Path elsewhere;

    private static Path home;

    @BeforeAll
    static void unpack() throws IOException {
        Path built = Path.of("target");
        try (Stream<Path> all = Files.exists(built) ? Files.list(built) : Stream.empty()) {
            List<Path> zips = all.filter(f -> f.getFileName().toString().matches("fairturn-.*\\.zip"))
                    .toList();
            Assumptions.assumeTrue(zips.size() == 1, "the zip is not built yet: mvn -q package -DskipTests");
            home = above.resolve("it's a folder").resolve("of two $words");
            try (FileSystem zip = FileSystems.newFileSystem(zips.get(0), Map.of("enablePosixFileAttributes", true))) {
                Path root =
                        zip.getPath("/" + zips.get(0).getFileName().toString().replaceFirst("\\.zip$", ""));
                try (Stream<Path> files = Files.walk(root)) {
                    for (Path file : files.toList()) {
                        Path copy = home.resolve(root.relativize(file).toString());
                        if (Files.isDirectory(file)) {
                            Files.createDirectories(copy);
                        } else {
                            Files.copy(file, copy);
                            Files.setPosixFilePermissions(copy, Files.getPosixFilePermissions(file));
                        }
                    }
                }
            }
        }
    }

    /** Whatever umask it was packed under: all may read it, and the scripts start. */
    @Test
    void everyFile_hasTheModeItHasForAnybody() throws IOException {
        assertThat(modes(home.resolve("lib/fairturn.jar"))).containsOnly("rw-r--r--", "rwxr-xr-x/");
        try (Stream<Path> all = Files.walk(home)) {
            for (Path file : all.filter(Files::isRegularFile).toList()) {
                boolean starts = file.getParent().equals(home.resolve("bin"));
                assertThat(Files.getPosixFilePermissions(file))
                        .as(file.toString())
                        .isEqualTo(PosixFilePermissions.fromString(starts ? "rwxr-xr-x" : "rw-r--r--"));
            }
        }
    }

    private static Set<String> modes(Path jar) throws IOException {
        Set<String> modes = new TreeSet<>();
        try (FileSystem zip = FileSystems.newFileSystem(jar, Map.of("enablePosixFileAttributes", true));
                Stream<Path> all = Files.walk(zip.getPath("/org"))) {
            for (Path path : all.toList()) {
                modes.add(PosixFilePermissions.toString(Files.getPosixFilePermissions(path))
                        + (Files.isDirectory(path) ? "/" : ""));
            }
        }
        return modes;
    }

    private Ran start(Map<String, String> environment, Path script, String... arguments) {
        List<String> command = new ArrayList<>(List.of(script.toString()));
        command.addAll(List.of(arguments));
        return Ran.process(elsewhere, environment, command);
    }

    private Ran fairturn(String... arguments) {
        return start(NO_ARCHIVE, home.resolve("bin/fairturn"), arguments);
    }

    @Test
    void reportsOnItsDemo_asTheProgramUnderTestDoes() throws IOException {
        Ran ran = fairturn("report", home.resolve("demo").toString(), "--out", "its report");
        Ran here = Ran.here(
                "report",
                Given.DEMO.toString(),
                "--out",
                elsewhere.resolve("here").toString());
        assertThat(ran.out().replace(Path.of("its report/report.html").toString(), ""))
                .isEqualTo(
                        here.out().replace(elsewhere.resolve("here/report.html").toString(), ""));
        assertThat(ran.err()).isEqualTo(here.err());
        assertThat(ran.code()).isZero();
        for (String name : List.of("report.html", "results.json", "results.csv", "charts/diameters.png")) {
            assertThat(elsewhere.resolve("its report").resolve(name))
                    .hasSameBinaryContentAs(elsewhere.resolve("here").resolve(name));
        }
    }

    @Test
    void startsThroughLinks_andFromThePath() throws IOException {
        Path link = Files.createSymbolicLink(above.resolve("a link"), home.resolve("bin/fairturn"));
        Files.createSymbolicLink(above.resolve("ft"), Path.of("a link"));
        assertThat(start(NO_ARCHIVE, link, "--version").out()).startsWith("fairturn ");
        Map<String, String> path = Map.of("FAIRTURN_ARCHIVE", "off", "PATH", above + ":" + System.getenv("PATH"));
        assertThat(start(path, Path.of("sh"), "-c", "ft --version").out()).startsWith("fairturn ");
    }

    @Test
    void makesItsStartArchiveOnce_andSaysTheSameWithIt() throws IOException {
        Ran without = fairturn("check", home.resolve("demo").toString());
        Ran making = start(Map.of("FAIRTURN_ARCHIVE", "now"), home.resolve("bin/fairturn"), "check", home + "/demo");
        List<Path> archives = archives();
        assertThat(archives).hasSize(1);
        assertThat(archives.get(0)).isNotEmptyFile();
        Ran with = start(Map.of(), home.resolve("bin/fairturn"), "check", home + "/demo");
        assertThat(making).isEqualTo(without);
        assertThat(with).isEqualTo(without);
        // one that belongs to other jars is passed over without a word
        Files.delete(archives.get(0));
        Files.writeString(archives.get(0), "not an archive");
        assertThat(start(Map.of(), home.resolve("bin/fairturn"), "check", home + "/demo"))
                .isEqualTo(without);
        Files.delete(archives.get(0));
    }

    private static List<Path> archives() throws IOException {
        try (Stream<Path> lib = Files.list(home.resolve("lib"))) {
            return lib.filter(f -> f.toString().endsWith(".jsa")).toList();
        }
    }

    @Test
    void withoutAJavaThatWillDo_saysWhatItFound() throws IOException {
        Path old = elsewhere.resolve("old");
        script(old.resolve("bin/java"), "exit 0");
        Files.writeString(old.resolve("release"), "IMPLEMENTOR=\"nobody\"\nJAVA_VERSION=\"1.8.0_392\"\n");
        Map<String, String> none = Map.of("PATH", elsewhere.toString(), "JAVA_HOME", old.toString());
        assertThat(start(none, home.resolve("bin/fairturn"), "--version"))
                .isEqualTo(new Ran(
                        1,
                        "",
                        "Fairturn needs Java 17 or newer, and neither JAVA_HOME nor PATH leads to one. Found and not"
                                + " used: 1.8.0_392 in " + old + ". Install one (a JRE is enough), or set JAVA_HOME to"
                                + " the folder it is in.\n"));
    }

    private static void script(Path file, String command) throws IOException {
        Files.createDirectories(file.getParent());
        Files.writeString(file, "#!/bin/sh\n" + command + "\n");
        assertThat(file.toFile().setExecutable(true)).isTrue();
    }

    @Test
    void aJavaThatDoesNotStateItsVersion_isAsked() throws IOException {
        Path odd = elsewhere.resolve("odd");
        script(
                odd.resolve("bin/java"),
                "[ \"$1\" = -version ] && echo 'openjdk version \"17.0.9\" 2023-10-17' >&2 || echo ran: \"$@\"");
        Ran ran = start(
                Map.of("JAVA_HOME", odd.toString(), "FAIRTURN_ARCHIVE", "off"),
                home.resolve("bin/fairturn"),
                "report",
                "a b");
        assertThat(ran.out()).matches("ran: .*-XX:TieredStopAtLevel=1 .*/lib/fairturn.jar report a b\n");
    }

    /** Whoever unpacks it has nothing else to read. */
    @Test
    void everyLinkOfItsDocuments_leadsToAFileInIt() throws IOException {
        List<String> dead = new ArrayList<>();
        int links = 0;
        List<Path> documents;
        try (Stream<Path> files = Files.walk(home)) {
            documents = files.filter(file -> file.toString().endsWith(".md"))
                    .sorted()
                    .toList();
        }
        for (Path document : documents) {
            Matcher link = Pattern.compile("\\]\\(([^)#:\\s]+)").matcher(Files.readString(document));
            for (; link.find(); links++) {
                if (!Files.isRegularFile(document.resolveSibling(link.group(1)))) {
                    dead.add(home.relativize(document) + ": " + link.group(1));
                }
            }
        }
        assertThat(dead).isEmpty();
        assertThat(links).isGreaterThan(30);
    }

    /** They sent people to trials that were not there. What needs the source, tests and what reports are made of, says so. */
    @Test
    void everySampleTrialItsDocumentsName_isInIt() throws IOException {
        Set<String> named = new TreeSet<>();
        List<Path> documents = new ArrayList<>(List.of(home.resolve("README.md"), home.resolve("CHANGELOG.md")));
        try (Stream<Path> files = Files.list(home.resolve("docs"))) {
            files.filter(file -> file.toString().endsWith(".md")
                            && !Set.of("benchmarks.md", "mutation.md")
                                    .contains(file.getFileName().toString()))
                    .forEach(documents::add);
        }
        for (Path document : documents) {
            Matcher folder = Pattern.compile("testdata/(?!reference|once-failed)[a-z-]+(/[a-z]+)?(?![\\w-])")
                    .matcher(Files.readString(document));
            while (folder.find()) {
                named.add(folder.group());
            }
        }
        assertThat(named).contains("testdata/complaint", "testdata/days/monday", "testdata/demo", "testdata/tape-only");
        assertThat(named).allSatisfy(folder -> assertThat(home.resolve(folder)).exists());
        assertThat(fairturn("check", home.resolve("testdata/complaint").toString())
                        .code())
                .isZero();
    }

    /** Of every library its licence is stated and its text there; the bill of materials lists what is there. */
    @Test
    void everyLibrary_hasItsLicence_andIsInTheBillOfMaterials() throws IOException {
        Set<String> jars;
        try (Stream<Path> lib = Files.list(home.resolve("lib"))) {
            jars = lib.map(f -> f.getFileName().toString())
                    .filter(n -> n.endsWith(".jar") && !n.equals("fairturn.jar"))
                    .collect(Collectors.toCollection(TreeSet::new));
        }
        String stated = Files.readString(home.resolve("licences/README.txt"));
        List<String> named = new ArrayList<>();
        for (String line : stated.split("\n\n", -1)[1].split("\n", -1)) {
            named.addAll(
                    List.of(line.substring(43).replaceAll("\\(.*", "").strip().split(" +")));
            String text = line.substring(19, 43).strip();
            if (!text.isEmpty()) {
                assertThat(text.equals("LICENSE") ? home.resolve(text) : home.resolve("licences/" + text))
                        .isNotEmptyFile();
            }
        }
        for (String jar : jars) {
            assertThat(named)
                    .as("who licenses " + jar)
                    .anyMatch(n ->
                            jar.matches(Pattern.quote(n).replace("*", "\\E.*\\Q") + (n.endsWith("*") ? "" : "-\\d.*")));
        }
        assertThat(home.resolve("licences/DejaVu.txt")).isNotEmptyFile();
        Set<String> listed = new TreeSet<>();
        JsonNode bill =
                new ObjectMapper().readTree(home.resolve("fairturn.cdx.json").toFile());
        bill.get("components")
                .forEach(c -> listed.add(
                        c.get("name").asText() + "-" + c.get("version").asText() + ".jar"));
        assertThat(listed).isEqualTo(jars);
    }

    @Test
    void completionsAndManual_knowEveryCommandAndOption() throws IOException {
        String bash = Files.readString(home.resolve("share/completion/fairturn.bash"));
        String fish = Files.readString(home.resolve("share/completion/fairturn.fish"));
        String page =
                Files.readString(home.resolve("share/man/man1/fairturn.1")).replace("\\-", "-");
        Matcher commands = Pattern.compile("^  ([a-z]+)  +[A-Z]", Pattern.MULTILINE)
                .matcher(Ran.here("--help").out());
        int options = 0;
        while (commands.find()) {
            String command = commands.group(1);
            assertThat(page).contains("\n.SS \"" + command + "\"\n");
            assertThat(fish).contains("-f -a " + command + " -d ");
            Matcher option = Pattern.compile("^ +(?:-\\w, )?(--[a-z-]+)", Pattern.MULTILINE)
                    .matcher(Ran.here(command, "--help").out());
            while (option.find()) {
                options++;
                assertThat(page).contains(option.group(1));
                assertThat(bash).contains("'" + option.group(1) + "'");
                assertThat(fish).contains(" -l " + option.group(1).substring(2) + " ");
            }
        }
        assertThat(options).isGreaterThan(40);
    }

    @Test
    void bash_completesACommandAndAnOption() {
        Path script = home.resolve("share/completion/fairturn.bash");
        Ran checked = ifThere("bash", "-n", script.toString());
        assertThat(checked).isEqualTo(new Ran(0, "", ""));
        Ran ran = ifThere(
                "bash",
                "-c",
                "source \"$0\"; COMP_WORDS=(fairturn rep); COMP_CWORD=1; _complete_fairturn; echo \"${COMPREPLY[@]}\";"
                        + " COMP_WORDS=(fairturn report --car); COMP_CWORD=2; _complete_fairturn; echo"
                        + " \"${COMPREPLY[@]}\"",
                script.toString());
        assertThat(ran.out()).isEqualTo("report\n--card\n");
    }

    @Test
    void theManualPage_hasNoFaults() {
        String page = home.resolve("share/man/man1/fairturn.1").toString();
        Ran linted = ifThere("man", "--warnings", "-l", page);
        assertThat(linted.err()).isEmpty();
        assertThat(linted.out()).contains("NAME", "fairturn", "EXIT CODES");
    }

    private Ran ifThere(String... command) {
        Assumptions.assumeTrue(
                Stream.of(System.getenv("PATH").split(":", -1))
                        .anyMatch(folder -> Files.isExecutable(Path.of(folder, command[0]))),
                command[0] + " is not installed");
        return Ran.process(elsewhere, Map.of("LC_ALL", "C.UTF-8", "MANWIDTH", "100"), List.of(command));
    }
}
