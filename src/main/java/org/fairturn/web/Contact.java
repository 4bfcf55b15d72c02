package org.fairturn.web;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.finding.NoContact;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.trial.Turn;

/**
 * The stops that stops.csv says do not touch the axle, read row by row: whatever else of the trial has to be mended first,
 * nobody is to be sent out on such a machine.
 */
final class Contact {
    private Contact() {}

    /**
     * What whoever drives is told.
     *
     * @param shown with stops.csv
     */
    static List<String> missing(TrialEditor.Shown shown) {
        return all(shown).map(NoContact::sentence).toList();
    }

    /** The same of one machine. */
    static List<String> missing(TrialEditor.Shown shown, String machine) {
        return all(shown)
                .filter(stop -> stop.machine().equals(machine))
                .map(NoContact::sentence)
                .toList();
    }

    static Stream<NoContact> all(TrialEditor.Shown shown) {
        return shown.files().get(TrialFile.STOPS).rows().stream()
                .filter(row -> row.cell("touches axle").equalsIgnoreCase("no"))
                .flatMap(row -> turn(row.cell("side")).stream()
                        .map(side -> new NoContact(row.cell("machine"), side, limits(row, side))));
    }

    /** The turn a stop limits: that of its own wheel, unless the row says otherwise. */
    static Optional<Turn> limits(ShownRow row) {
        return turn(row.cell("side")).map(side -> limits(row, side));
    }

    private static Turn limits(ShownRow row, Turn side) {
        return turn(row.cell("limits")).orElse(side);
    }

    private static Optional<Turn> turn(String word) {
        return Arrays.stream(Turn.values())
                .filter(turn -> turn.word().equalsIgnoreCase(word))
                .findFirst();
    }
}
