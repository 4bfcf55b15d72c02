package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.fairturn.web.FairturnServer;
import org.fairturn.web.Settings;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ServeCommandTest {
    @TempDir
    Path above;

    /** Starts a server, loads its first page and stops it; returns what it said and the page. */
    static List<String> served(Path workingFolder, List<String> command) throws IOException, InterruptedException {
        ProcessBuilder builder = new ProcessBuilder(command)
                .directory(workingFolder.toFile())
                .redirectError(workingFolder.resolve("err.txt").toFile());
        builder.environment().keySet().removeAll(List.of("JAVA_TOOL_OPTIONS", "JDK_JAVA_OPTIONS")); // they print
        Process process = builder.start();
        try (BufferedReader out =
                new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
            List<String> said = new ArrayList<>();
            said.add(out.readLine());
            HttpResponse<String> page = HttpClient.newHttpClient()
                    .send(
                            HttpRequest.newBuilder(URI.create(said.get(0))).build(),
                            HttpResponse.BodyHandlers.ofString());
            said.add(page.body());
            return said;
        } finally {
            process.destroy();
            process.waitFor();
        }
    }

    @Test
    void anArchiveThatIsNotThere_isSaid_beforeAnythingIsServed() {
        Ran ran = Ran.here(
                "serve",
                above.toString(),
                "--port",
                "0",
                "--archive",
                above.resolve("none").toString());
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.out()).isEmpty();
        assertThat(ran.err())
                .startsWith("--archive: ")
                .contains("found nothing there; accepted: a folder with trial folders");
    }

    @Test
    void serve_saysItsAddress_andAnswersThere() throws Exception {
        List<String> command = new ArrayList<>(Ran.program());
        command.addAll(List.of("serve", Given.DEMO.toString(), "--port", "0"));
        List<String> said = served(above, command);
        assertThat(said.get(0)).matches("http://127\\.0\\.0\\.1:[0-9]+/");
        assertThat(said.get(1)).contains("Alder 22 and Basalt 25, left and right, 2WD and 4WD");
        assertThat(java.nio.file.Files.readString(above.resolve("err.txt")))
                .contains("seat belt on and ROPS up", "Stop with Ctrl-C.")
                .doesNotContain("INFO", "Jetty", "Javalin", "SLF4J");
    }

    @Test
    void aPortThatIsTaken_isSaid() throws IOException {
        try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            int port = taken.getLocalPort();
            assertThat(Ran.here("serve", above.toString(), "--port", String.valueOf(port)))
                    .isEqualTo(new Ran(
                            1,
                            "",
                            "Port " + port + " is taken, perhaps by another Fairturn. Stop that one, or choose another"
                                    + " port, for example with --port " + (port == 65_535 ? port - 1 : port + 1)
                                    + ".\n"));
        }
    }

    @Test
    void aFolderThatIsNotThere_orAPortThereIsNot_isWrongUsage() {
        Ran nowhere = Ran.here("serve", above.resolve("nowhere").toString());
        assertThat(nowhere.code()).isEqualTo(2);
        assertThat(nowhere.err()).contains("accepted: a folder that is there. fairturn new makes a trial folder.");
        assertThat(Ran.here("serve", above.toString(), "--port", "70000").err())
                .contains("--port: read 70000; accepted: a number from 0 to 65535.");
    }

    @Test
    void whatIsDownloaded_isByteForByteWhatReportWrites() throws Exception {
        Path out = above.resolve("out");
        assertThat(Ran.here("report", Given.DEMO.toString(), "--out", out.toString())
                        .code())
                .isZero();
        FairturnServer server = FairturnServer.create(new Settings(Given.DEMO.toAbsolutePath(), false, 0));
        assertThat(server.start()).isTrue();
        try (Stream<Path> written = Files.walk(out)) {
            List<Path> files = written.filter(Files::isRegularFile).toList();
            assertThat(files).hasSizeGreaterThan(10);
            for (Path file : files) {
                String name = out.relativize(file).toString().replace('\\', '/');
                HttpResponse<byte[]> sent = HttpClient.newHttpClient()
                        .send(
                                HttpRequest.newBuilder(URI.create(server.address() + "trial/demo/file/" + name))
                                        .build(),
                                HttpResponse.BodyHandlers.ofByteArray());
                assertThat(sent.body()).as(name).isEqualTo(Files.readAllBytes(file));
                assertThat(sent.headers().firstValue("Content-Disposition"))
                        .hasValue("attachment; filename=\"" + file.getFileName() + "\"");
            }
        } finally {
            server.stop();
        }
    }
}
