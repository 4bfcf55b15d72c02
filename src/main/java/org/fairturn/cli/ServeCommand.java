package org.fairturn.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import org.fairturn.finding.Archive;
import org.fairturn.report.Cautions;
import org.fairturn.web.FairturnServer;
import org.fairturn.web.Settings;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Shows trials in the browser until it is stopped. */
@Command(
        name = "serve",
        description = {
            "Show trials in the browser of this machine, and with --lan in those of phones in the same network. What is"
                    + " typed there goes into the trial folder at once. Stop it with Ctrl-C.",
            ""
        },
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn serve              trials in the current folder",
            "  fairturn serve meadow       one trial",
            "  fairturn serve --lan        phones may enter with the code that is shown",
            "  fairturn serve --archive trials",
            "                              plans there go by what past trials show",
            "",
            "Exit codes: 0 done; 1 the port is taken, or the archive cannot be read; 2 the",
            "command was not understood."
        })
final class ServeCommand implements Callable<Integer> {
    private static final int USUAL_PORT = 8321;

    @Spec
    private CommandSpec spec;

    @Parameters(
            paramLabel = "FOLDER",
            arity = "0..1",
            defaultValue = ".",
            description = "A trial folder, or a folder of trial folders; default: the current folder.")
    private Path folder;

    @Option(names = "--lan", description = "Let phones in the same network enter with an access code.")
    private boolean lan;

    @Option(
            names = "--port",
            paramLabel = "N",
            defaultValue = "" + USUAL_PORT,
            description = "The port to listen on, 0 for any that is free; default: ${DEFAULT-VALUE}.")
    private int port;

    @Mixin
    private ArchiveOption archive;

    @Override
    public Integer call() throws InterruptedException {
        if (!Files.isDirectory(folder)) {
            throw new ParameterException(
                    spec.commandLine(),
                    "read \"" + folder + "\"; accepted: a folder that is there. fairturn new makes a trial folder.");
        }
        if (port < 0 || port > 65_535) {
            throw new ParameterException(
                    spec.commandLine(), "--port: read " + port + "; accepted: a number from 0 to 65535.");
        }
        Optional<Archive> past = Optional.empty();
        if (archive.asked()) {
            past = archive.read(spec.commandLine().getErr());
            if (past.isEmpty()) {
                return Fairturn.DATA_ERRORS;
            }
        }
        FairturnServer server = FairturnServer.create(new Settings(folder, lan, port, past));
        if (!server.start()) {
            spec.commandLine()
                    .getErr()
                    .println("Port " + port + " is taken, perhaps by another Fairturn. Stop that one, or choose another"
                            + " port, for example with --port " + (port == 65_535 ? port - 1 : port + 1) + ".");
            return Fairturn.DATA_ERRORS;
        }
        Runtime.getRuntime().addShutdownHook(new Thread(server::stop, "stop"));
        say(server);
        new CountDownLatch(1).await(); // until the process is stopped
        return Fairturn.DONE;
    }

    private void say(FairturnServer server) {
        PrintWriter out = spec.commandLine().getOut();
        PrintWriter human = spec.commandLine().getErr();
        out.println(server.address());
        if (lan) {
            server.networkAddresses().forEach(out::println);
            out.println("Access code: " + server.accessCode());
            human.println("A phone in the same network opens one of these addresses and types the code, or points its"
                    + " camera here:");
            human.print(server.drawnInvitation());
            human.println("What is sent is not encrypted: use a network you trust, such as the phone's own hotspot.");
        }
        Cautions.ALL.forEach(human::println);
        human.println("Open the first address in the browser of this machine. Stop with Ctrl-C.");
        out.flush();
        human.flush();
    }
}
