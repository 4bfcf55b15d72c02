package org.fairturn.cli;

import java.nio.file.Path;
import java.util.List;
import org.fairturn.finding.Warning;
import org.fairturn.folder.Note;
import org.fairturn.folder.Problem;

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

    /** Notes of the folder, as warnings beside those of the analysis. */
    static List<Warning> warnings(List<Note> notes) {
        return notes.stream()
                .map(note -> new Warning("folder", note.where(), note.text()))
                .toList();
    }

    /** Such as {@code 1 circle} or {@code 3 circles}. */
    static String count(int number, String one, String more) {
        return number + " " + (number == 1 ? one : more);
    }

    /** A path as it can be typed after a command. */
    static String argument(Path path) {
        String text = plain(path.toString());
        return text.matches("[\\p{L}\\p{N}_./:\\\\-]+") ? text : '"' + text + '"';
    }
}
