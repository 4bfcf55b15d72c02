package org.fairturn.cli;

import java.util.List;
import org.fairturn.Fuzzing;
import org.junit.jupiter.api.Test;

class CommandFuzzTest {
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
}
