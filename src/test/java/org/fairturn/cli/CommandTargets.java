package org.fairturn.cli;

import static org.fairturn.Fuzzing.promise;

import java.nio.charset.StandardCharsets;
import java.util.List;
import org.fairturn.Fuzzing;

/** The command line, understood or refused; nothing is carried out. */
public final class CommandTargets {
    private static final String OWN_FAULT = "a fault of its own";

    private CommandTargets() {}

    /** One argument a line. */
    public static boolean arguments(byte[] input) {
        String text = new String(input, StandardCharsets.UTF_8);
        List<String> arguments = List.of(text.split("\n", -1));
        Ran ran = Ran.here(
                false, line -> line.setExecutionStrategy(parsed -> Fairturn.DONE), arguments.toArray(new String[0]));
        promise(ran.code() == Fairturn.DONE || ran.code() == Fairturn.WRONG_USAGE, "understood or not: " + ran);
        promise(!ran.err().contains(OWN_FAULT) || text.contains(OWN_FAULT), ran.err());
        promise(ran.code() == Fairturn.DONE || ran.err().contains("--help"), "where there is more: " + ran.err());
        promise(ran.err().chars().noneMatch(c -> c < ' ' && c != '\n'), "nothing that steers a terminal");
        Fuzzing.neverATrace(ran.all(), text);
        return ran.code() == Fairturn.DONE;
    }
}
