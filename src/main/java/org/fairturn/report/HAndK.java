package org.fairturn.report;

import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.fairturn.finding.Testers;
import org.fairturn.finding.Wording;
import org.fairturn.uncertainty.Interlaboratory;
import org.fairturn.units.Figures;

/** Rows of Mandel's h and k: who or when, how many, mean, standard deviation, h, k; with a mark where one stands out. */
final class HAndK {
    private static final String NONE = "–";

    private HAndK() {}

    /** A row for each group of one level. */
    static List<List<String>> rows(String level, Interlaboratory measured, Wording wording) {
        return IntStream.range(0, measured.groups().size())
                .mapToObj(i -> row(level, measured, i, wording))
                .toList();
    }

    private static List<String> row(String level, Interlaboratory measured, int i, Wording wording) {
        Interlaboratory.Group group = measured.groups().get(i);
        return List.of(
                level + ", " + group.label(),
                Integer.toString(group.n()),
                wording.amount(group.mean()),
                group.standardDeviation().isPresent()
                        ? wording.amount(group.standardDeviation().getAsDouble())
                        : NONE,
                pointer(measured.h(i), measured.standsOutByH(i, Testers.ALPHA)),
                pointer(measured.k(i), measured.standsOutByK(i, Testers.ALPHA)));
    }

    /** The scatter of one group over all levels. */
    static List<String> row(String group, Interlaboratory.Scatter k) {
        return List.of(
                group,
                NONE,
                NONE,
                NONE,
                NONE,
                pointer(OptionalDouble.of(k.k()), k.standsOut()) + " (critical " + Figures.fixed(k.critical(), 2)
                        + ")");
    }

    private static String pointer(OptionalDouble value, boolean standsOut) {
        return value.isEmpty() ? NONE : Figures.typeset(value.getAsDouble(), 2) + (standsOut ? " !" : "");
    }
}
