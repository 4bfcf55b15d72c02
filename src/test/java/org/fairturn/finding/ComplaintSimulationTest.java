package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.fairturn.finding.Complaint.Kind;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/**
 * Trials drawn from known faults: whether the right cause comes first. Circle to circle 25 mm, a reading 10 mm, two circles of
 * two readings in each of four cells, a manual with a standard uncertainty of 10 mm. A fault moves the cells it touches by
 * three times the circle-to-circle standard deviation; a misread reference by what it makes of the figures.
 */
class ComplaintSimulationTest {
    private static final int TRIALS = 200;
    private static final double CIRCLE = 25;
    private static final double READING = 10;
    private static final double MANUAL = 10;

    private enum Fault {
        NOTHING(Kind.NOTHING),
        LEFT(Kind.LEFT_STOP),
        RIGHT(Kind.RIGHT_STOP),
        BOTH(Kind.BOTH_STOPS),
        DECK(Kind.DECK),
        FRONT(Kind.FRONT_AXLE),
        DIRECTION(Kind.DIRECTION),
        RADIUS(Kind.CONVENTION);

        private final Kind kind;

        Fault(Kind kind) {
            this.kind = kind;
        }

        /** What it makes of a cell (mm). */
        double of(Turn turn, Drive drive, double size) {
            return switch (this) {
                case LEFT -> turn == Turn.LEFT ? size : 0;
                case RIGHT -> turn == Turn.RIGHT ? size : 0;
                case BOTH -> size;
                case DECK -> turn == Turn.LEFT ? -size : size;
                case FRONT -> drive == Drive.FOUR_WHEEL ? size : 0;
                case NOTHING, DIRECTION, RADIUS -> 0;
            };
        }
    }

    private static double sound(Turn turn, Drive drive) {
        return 1600 + (turn == Turn.RIGHT ? 155 : 0) + (drive == Drive.FOUR_WHEEL ? 420 : 0);
    }

    private static double normal(SplittableRandom random, double deviation) {
        double u = Math.max(random.nextDouble(), 1e-300);
        return deviation * Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * random.nextDouble());
    }

    /** The deck is not measured against its specification, and the stops are not measured. */
    private static Trial draw(Fault fault, double size, double spread, SplittableRandom random) {
        Trials trials = Trials.in(LengthUnit.MILLIMETRE)
                .machine("Alder")
                .deckOfThree(48)
                .steering(1450, 950, 60, 60)
                .stop(Turn.LEFT, Double.NaN, Double.NaN, Double.NaN, 80)
                .stop(Turn.RIGHT, Double.NaN, Double.NaN, Double.NaN, 80);
        for (Turn turn : Turn.values()) {
            double own = normal(random, spread);
            for (Drive drive : Drive.values()) {
                for (int i = 0; i < 2; i++) {
                    double circle = sound(turn, drive) + own + fault.of(turn, drive, size) + normal(random, CIRCLE);
                    trials.circle(
                            "" + turn + drive + i,
                            turn,
                            drive,
                            circle + normal(random, READING),
                            circle + normal(random, READING));
                }
                Turn stated = fault == Fault.DIRECTION ? turn.other() : turn;
                double figure = (sound(stated, drive) + normal(random, MANUAL)) * (fault == Fault.RADIUS ? 0.5 : 1);
                trials.reference(
                        figure,
                        Claim.Quantity.UNCUT_DIAMETER,
                        Optional.of(turn),
                        Optional.of(drive),
                        fault == Fault.RADIUS ? MANUAL / 2 : MANUAL,
                        "manual");
            }
        }
        return trials.trial();
    }

    static Complaint complaint(Trial trial) {
        return Complaints.of(Trials.asked(trial)).complaints().get(0);
    }

    private static List<Complaint.Cause> first(Fault fault, double size, double spread) {
        SplittableRandom random = new SplittableRandom(1);
        return IntStream.range(0, TRIALS)
                .mapToObj(i ->
                        complaint(draw(fault, size, spread, random)).causes().get(0))
                .toList();
    }

    /** Share of trials in which the right cause comes first, and in which it is named, and in which a wrong one is. */
    private static double[] shares(Fault fault, double size, double spread) {
        List<Complaint.Cause> first = first(fault, size, spread);
        double right = first.stream().filter(c -> c.kind() == fault.kind).count();
        double named = first.stream()
                .filter(c -> c.kind() == fault.kind && c.probability() >= 0.95)
                .count();
        double wrong = first.stream()
                .filter(c -> c.kind() != fault.kind && c.probability() >= 0.95)
                .count();
        return new double[] {right / TRIALS, named / TRIALS, wrong / TRIALS};
    }

    @Test
    void aFaultOfThreeTimesTheRepeatability_comesFirst_inNineTrialsOfTen_andNothingWrongIsNamed() {
        for (Fault fault : Fault.values()) {
            double[] shares = shares(fault, 3 * CIRCLE, 0);
            assertThat(shares[0]).as("%s comes first", fault).isGreaterThanOrEqualTo(0.9);
            assertThat(shares[2]).as("another is named for %s", fault).isLessThanOrEqualTo(0.05);
        }
    }

    /** Machines of one kind differ a little: by as much as is assumed. */
    @Test
    void aSoundMachine_isCalledSoundOrLeftUndecided_inNineteenTrialsOfTwenty() {
        assertThat(shares(Fault.NOTHING, 0, 10)[2]).isLessThanOrEqualTo(0.05);
        assertThat(shares(Fault.NOTHING, 0, 17)[2]).isLessThanOrEqualTo(0.05);
    }
}
