package org.fairturn.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Iterator;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.folder.AtomicFile;
import org.fairturn.report.FieldSheet;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;

/** The field sheet as a file. */
final class SheetFile {
    private SheetFile() {}

    /** Sizes of paper, as help shows them. */
    static final class Sizes implements Iterable<String> {
        @Override
        public Iterator<String> iterator() {
            return words().iterator();
        }
    }

    private static Stream<String> words() {
        return Stream.of(FieldSheet.Paper.values()).map(FieldSheet.Paper::word);
    }

    static FieldSheet.Paper paper(CommandSpec spec, String word) {
        return Stream.of(FieldSheet.Paper.values())
                .filter(p -> p.word().equalsIgnoreCase(word.strip()))
                .findFirst()
                .orElseThrow(() -> new ParameterException(
                        spec.commandLine(),
                        "--paper: read \"" + word + "\"; accepted: " + words().collect(Collectors.joining(" or "))
                                + "."));
    }

    /** Whether it is there now; what kept it from being written is said. */
    static boolean write(Path file, FieldSheet sheet, PrintWriter human) {
        try {
            Path above = file.toAbsolutePath().getParent();
            if (Files.isDirectory(file) || above == null) {
                human.println(cannotWrite(file, "a folder is in the way"));
                return false;
            }
            Files.createDirectories(above);
            AtomicFile.write(file, sheet.pdf());
            human.println("The field sheet is " + Text.argument(file) + ".");
            return true;
        } catch (AccessDeniedException denied) {
            human.println(cannotWrite(file, "permission was denied"));
        } catch (IOException refused) {
            human.println(cannotWrite(file, "the disk refused"));
        }
        return false;
    }

    private static String cannotWrite(Path file, String why) {
        return Text.argument(file) + ": found no way to write it, " + why
                + "; accepted: a file in a folder you may write to, with room on the disk.";
    }
}
