package org.fairturn.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.fairturn.Fuzzing;
import org.fairturn.folder.TrialFile;
import org.fairturn.folder.TrialZip;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CommandFuzzTest {
    @TempDir
    Path above;

    @Test
    void arguments() {
        Fuzzing.texts(
                "arguments",
                CommandTargets::arguments,
                List.of(
                        "new",
                        "check",
                        "plan",
                        "sheet",
                        "report",
                        "days",
                        "convert",
                        "batch",
                        "archive",
                        "serve",
                        "--json",
                        "--out",
                        "--pdf",
                        "--card",
                        "--bundle",
                        "--lan",
                        "--port",
                        "--port=0",
                        "--help",
                        "--version",
                        "-h",
                        "--",
                        "--folder",
                        "--machine",
                        "--archive",
                        "--seed",
                        "@args",
                        "\n",
                        "\nx\n",
                        "=",
                        "70000",
                        "-1",
                        "meadow"),
                List.of(
                        "report\nmeadow\n--pdf",
                        "convert\nturn radius\n1.6 m\n--folder\nmeadow",
                        "serve\n--port\n0\n--lan",
                        "plan\nAlder 22\nBasalt 25",
                        "batch\ntrials\n--json-lines\n--out\nx.jsonl",
                        "days\na\nb\n--out=c",
                        "archive\nx"));
    }

    /** Commands carried out in a folder of their own: nothing is written anywhere else. */
    @Test
    void commands() throws IOException {
        Path here = Files.createDirectory(above.resolve("here"));
        for (String trial : List.of("tape-only", "days/monday", "days/saturday", "complaint")) {
            Path from = Path.of("testdata", trial);
            Path to = Files.createDirectories(
                    here.resolve("trials").resolve(from.getFileName().toString()));
            for (TrialFile file : TrialFile.values()) {
                if (Files.exists(from.resolve(file.fileName()))) {
                    Files.copy(from.resolve(file.fileName()), to.resolve(file.fileName()));
                }
            }
        }
        Files.write(here.resolve("small.zip"), TrialZip.of(here.resolve("trials/tape-only")));
        Fuzzing.texts(
                "commands",
                input -> CommandTargets.carriedOut(here, input),
                List.of(
                        "{here}/trials/tape-only",
                        "{here}/trials/complaint",
                        "{here}/trials",
                        "{here}/small.zip",
                        "{here}/new",
                        "{here}",
                        "--json",
                        "--out",
                        "--out={here}/out",
                        "--pdf",
                        "--card",
                        "--bundle",
                        "--archive",
                        "--archive={here}/trials",
                        "--unit",
                        "--unit=ft",
                        "--margin=2 in",
                        "--confidence=99.9",
                        "--minutes=60",
                        "--seed=7",
                        "--sheet={here}/a.pdf",
                        "--paper=letter",
                        "--drives=both",
                        "--ask=claims",
                        "--machine=Clover 18",
                        "--brakes=used",
                        "--turn=left",
                        "--drive=4WD",
                        "0",
                        "-1",
                        "1e9",
                        "62 in",
                        "300 m",
                        "NaN",
                        "2026-02-30",
                        "\n",
                        "\n--help\n",
                        "\n--\n"),
                List.of(
                        "report\n{here}/trials/tape-only\n--out\n{here}/out\n--json",
                        "report\n{here}/small.zip\n--out\n{here}/out\n--bundle",
                        "check\n{here}/trials/tape-only\n--json",
                        "check\n{here}/small.zip",
                        "new\n{here}/made",
                        "plan\nAlder 22\nBasalt 25\n--margin\n2 in\n--chance\n80\n--json",
                        "plan\n--folder\n{here}/trials/tape-only\n--minutes\n60\n--find=4 in",
                        "plan\nAlder 22\n--out\n{here}/planned\n--sheet\n{here}/s.pdf\n--title\nx\n--date\n2026-05-14\n--seed\n7",
                        "sheet\n{here}/trials/tape-only\n--out\n{here}/s.pdf\n--readings\n3",
                        "days\n{here}/trials/monday\n{here}/trials/saturday\n--out\n{here}/days",
                        "convert\nturn radius\n1.6 m\n--folder\n{here}/trials/complaint\n--json",
                        "convert\nturn radius\n1.6 m\n--wheelbase\n1.5 m\n--front-track\n1.1 m\n--blade\n0.6 m,0.4 m,0.25 m\n--out\n{here}/d",
                        "batch\n{here}/trials\n--json-lines\n--out\n{here}/x.jsonl",
                        "archive\n{here}/trials\n--out\n{here}/arch\n--unit\nin"));
    }
}
