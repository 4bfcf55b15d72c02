package org.fairturn.cli;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import org.fairturn.finding.Warning;
import org.fairturn.folder.Problem;
import org.fairturn.report.BundleAgreement;

/** How things read on a terminal. */
final class Text {
    private static final int WIDEST_POINTER = 80;

    private Text() {}

    /** One line: what a cell may hold of control characters must neither break lines nor steer the terminal. */
    static String plain(String text) {
        StringBuilder plain = new StringBuilder(text.length());
        text.codePoints().forEach(c -> plain.appendCodePoint(isInvisible(c) ? '\uFFFD' : c));
        return plain.toString();
    }

    private static boolean isInvisible(int codePoint) {
        // format characters include those that turn the writing direction round
        return Character.isISOControl(codePoint) || Character.getType(codePoint) == Character.FORMAT;
    }

    /** The message and, where a cell stopped making sense somewhere, the cell with a caret below that place. */
    static String problem(Problem problem) {
        if (problem.caret() < 0 || problem.read().length() > WIDEST_POINTER) {
            return plain(problem.message());
        }
        return plain(problem.message()) + "\n    " + plain(problem.read()) + "\n    " + " ".repeat(problem.caret())
                + "^";
    }

    static String warning(Warning warning) {
        return plain(warning.where() + ": " + warning.message());
    }

    /** Such as {@code 1 circle} or {@code 3 circles}. */
    static String count(int number, String one, String more) {
        return number + " " + (number == 1 ? one : more);
    }

    /** A bundle that contradicts itself has to be mended; one of another version of the program may well differ. */
    static int code(BundleAgreement agreement) {
        return agreement.same() || (agreement.otherProgram() && !agreement.otherData())
                ? Fairturn.DONE
                : Fairturn.DATA_ERRORS;
    }

    /** What is said where {@code --out} leads nowhere. */
    static String cannotWrite(Path target, IOException refused, String accepted) {
        String why = "the disk refused";
        if (refused instanceof FileAlreadyExistsException) {
            why = "a file is in the way";
        } else if (refused instanceof AccessDeniedException) {
            why = "permission was denied";
        } else if (refused instanceof NoSuchFileException) {
            why = "its folder is not there";
        }
        return "--out " + argument(target) + ": found no way to write there, " + why + "; accepted: " + accepted
                + ". Choose another with --out.";
    }

    /** A path as it can be typed after a command. */
    static String argument(Path path) {
        String text = plain(path.toString());
        return text.matches("[\\p{L}\\p{N}_./:\\\\-]+") ? text : '"' + text + '"';
    }
}
