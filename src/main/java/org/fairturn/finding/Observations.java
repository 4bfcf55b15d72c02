package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.fairturn.fit.CircleFit;
import org.fairturn.fit.TapeDiameter;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Reading;
import org.fairturn.trial.TapeClass;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;

/**
 * Turns readings into diameters with their uncertainty.
 *
 * <p>Two assumptions: every taped length has the repeatability of a tape laid straight across, so that a method's variance
 * is that repeatability times the sum of its squared sensitivities; and a point on the perimeter has half the variance of a
 * tape laid across, which has two ends.
 */
final class Observations {
    /** Root mean square distance by which a judged centre is missed. Our own choice: common practice, no source. */
    static final double CENTRE_MISS = 0.025;
    /** Half-width of the cut edge where the trial does not state it. Our own choice: common practice, no source. */
    static final Length EDGE_IF_NOT_STATED = Length.mm(5);
    /** Tape class where the trial does not state it: the widest limits. */
    static final TapeClass TAPE_IF_NOT_STATED = TapeClass.III;

    static final String PERIMETER = "perimeter points";

    private final TapeClass tape;
    private final double edge;

    Observations(Conditions conditions) {
        tape = conditions.tapeClass().orElse(TAPE_IF_NOT_STATED);
        // An eye that sets the edge outward by δ sees every circle larger by 2δ; δ is rectangular over ± the
        // half-width.
        edge = 2 * conditions.edgeDefinition().orElse(EDGE_IF_NOT_STATED).metres() / Math.sqrt(3);
    }

    /** Everything measured on a circle, in the order it was written. */
    List<Observation> of(Circle circle) {
        List<Observation> result = new ArrayList<>();
        for (Reading reading : circle.readings()) {
            result.add(of(reading));
        }
        perimeter(circle).ifPresent(result::add);
        return List.copyOf(result);
    }

    Observation of(Reading reading) {
        return reading.tape()
                .fold(
                        across -> across(reading, across.chord().metres()),
                        both -> taped(
                                reading,
                                TapeDiameter.chordAndRise(
                                        both.chord().metres(), both.rise().metres()),
                                "c²/(4h) + h = %1$s²/(4 × %2$s) + %2$s",
                                both.chord(),
                                both.rise()),
                        three -> taped(
                                reading,
                                TapeDiameter.threeStakes(
                                        three.first().metres(),
                                        three.second().metres(),
                                        three.third().metres()),
                                "abc/(2K) of the triangle %s, %s, %s",
                                three.first(),
                                three.second(),
                                three.third()));
    }

    private Observation across(Reading reading, double chord) {
        TapeDiameter d = TapeDiameter.across(chord, CENTRE_MISS);
        double correction = TapeDiameter.missedCentreCorrection(chord, CENTRE_MISS);
        return observation(
                reading,
                d,
                new SharedParts(
                        tapeLimit(d, 0, chord), edge, correction / Math.sqrt(3)), // anything from none to twice it
                "chord + 2p²/chord = " + mm(chord) + " + " + Figures.fixed(1000 * correction, 1));
    }

    private Observation taped(Reading reading, TapeDiameter d, String formula, Length... lengths) {
        double limit = 0;
        Object[] shown = new Object[lengths.length];
        for (int i = 0; i < lengths.length; i++) {
            limit += tapeLimit(d, i, lengths[i].metres());
            shown[i] = mm(lengths[i].metres());
        }
        return observation(
                reading, d, new SharedParts(Math.abs(limit), edge, 0), String.format(Locale.ROOT, formula, shown));
    }

    /** What the limits of the tape put on the diameter through one length: rectangular, as JCGM 100:2008, 4.3.7. */
    private double tapeLimit(TapeDiameter d, int i, double length) {
        return d.sensitivity(i)
                * tape.maximumPermissibleError(new Length(length)).metres()
                / Math.sqrt(3);
    }

    static String where(Reading reading) {
        return "readings.csv, row " + reading.row();
    }

    private static Observation observation(Reading reading, TapeDiameter d, SharedParts shared, String working) {
        return new Observation(
                reading.tape().kind(),
                reading.written(),
                where(reading),
                d.diameter(),
                d.varianceFactor(),
                shared,
                working + " = " + mm(d.diameter()));
    }

    private Optional<Observation> perimeter(Circle circle) {
        int n = circle.perimeter().size();
        if (n == 0) {
            return Optional.empty();
        }
        double[] x =
                circle.perimeter().stream().mapToDouble(p -> p.x().metres()).toArray();
        double[] y =
                circle.perimeter().stream().mapToDouble(p -> p.y().metres()).toArray();
        return CircleFit.geometric(x, y)
                .fold(
                        fitted -> Optional.of(new Observation(
                                PERIMETER,
                                n + " points",
                                "points.csv",
                                2 * fitted.radius(),
                                2 * fitted.radiusVarianceFactor(), // D = 2R, and a point has half a tape's variance
                                new SharedParts(
                                        tape.maximumPermissibleError(new Length(2 * fitted.radius()))
                                                        .metres()
                                                / Math.sqrt(3),
                                        edge,
                                        0),
                                "least-squares circle through " + n + " points, which lie within "
                                        + Figures.fixed(1000 * fitted.rmsDistance(), 1)
                                        + " mm (root mean square) of it = "
                                        + mm(2 * fitted.radius()))),
                        none -> Optional.empty());
    }

    private static String mm(double metres) {
        return Figures.fixed(1000 * metres, 1);
    }
}
