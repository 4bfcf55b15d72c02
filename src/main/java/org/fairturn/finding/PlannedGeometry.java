package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Reading;
import org.fairturn.trial.TapeReading;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;

/**
 * What no circle makes smaller: the dimensions of the machine in what the deck explains, tape and eye in a circle held
 * against a stated figure. Found by putting circles without any scatter to the analysis itself.
 */
final class PlannedGeometry {
    /**
     * Standard uncertainty (m) of what the deck explains where nothing is known of it yet: what blades measured to the usual
     * 5 mm come to.
     */
    static final double DECK_NOT_KNOWN = 0.020;
    /** Diameter (m) where the machine's own is not known; it hardly matters here. */
    private static final double USUAL_DIAMETER = 1.8;

    private static final double LEAST_DIAMETER = 0.3;
    /** What remains of the assumed repeatability, so that circles do not scatter. */
    private static final double NO_SCATTER = 1e-3;

    private final PlanWish wish;
    private final double deck;
    private final double shared;
    private final boolean assumed;

    PlannedGeometry(PlanWish wish) {
        this.wish = wish;
        double mostDeck = 0;
        double mostShared = 0;
        boolean anyAssumed = false;
        for (Machine machine : wish.machines()) {
            for (Drive drive : wish.drives()) {
                MachineEstimate estimate = withoutScatter(machine, drive);
                OptionalDouble known = deckVariance(estimate, drive);
                anyAssumed |= known.isEmpty();
                mostDeck = Math.max(mostDeck, known.orElse(DECK_NOT_KNOWN * DECK_NOT_KNOWN));
                mostShared = Math.max(
                        mostShared,
                        estimate.cells().stream()
                                .mapToDouble(estimate::sharedVariance)
                                .max()
                                .orElseThrow());
            }
        }
        deck = mostDeck;
        shared = mostShared;
        assumed = anyAssumed;
    }

    /** Whether nothing was known of the deck of some machine. */
    boolean assumed() {
        return assumed;
    }

    /** Variance (m²) no circle makes smaller, of the machine and drive that have most of it. */
    double variance(PlannedQuestion question) {
        double stated = wish.statedUncertainty().orElse(0);
        return switch (question) {
            case LEFT_RIGHT -> deck;
            case DRIVE, SIDE_BY_SIDE -> 0; // tape and eye cancel
            // a claim that states no uncertainty was made with another tape and eye, as good as these
            case CLAIM -> shared + (wish.statedUncertainty().isPresent() ? stated * stated : shared);
            case COMPLAINT -> wish.knownGood().isPresent() ? 0 : shared + stated * stated; // as side by side
        };
    }

    private OptionalDouble deckVariance(MachineEstimate estimate, Drive drive) {
        Finding finding = LeftRight.of(
                        estimate,
                        drive,
                        Brakes.NONE,
                        new DecisionRule(
                                wish.conditions().practicalMargin().metres(),
                                wish.conditions().confidence()),
                        new Wording(wish.conditions().lengthUnit()))
                .finding();
        return finding.estimate()
                .map(e -> OptionalDouble.of(e.standardUncertainty() * e.standardUncertainty()))
                .orElse(OptionalDouble.empty());
    }

    private MachineEstimate withoutScatter(Machine machine, Drive drive) {
        Conditions conditions = wish.conditions().withAssumedRepeatability(NO_SCATTER);
        Observations observations = new Observations(conditions);
        List<CircleResult> circles = new ArrayList<>();
        for (Turn turn : Turn.values()) {
            Reading reading = new Reading(
                    new TapeReading.Across(new Length(diameter(machine, turn, drive))),
                    Optional.empty(),
                    "",
                    "",
                    0,
                    "");
            Circle circle = new Circle(
                    turn.word(),
                    new Cell(machine.id(), turn, drive, Brakes.NONE),
                    OptionalInt.empty(),
                    OptionalInt.empty(),
                    true,
                    "",
                    0,
                    List.of(reading, reading),
                    List.of());
            circles.add(CircleResult.of(circle, observations));
        }
        return MachineEstimate.of(machine, conditions, circles).orElseThrow();
    }

    /** As designed, where lock angles and blades are known. */
    private static double diameter(Machine machine, Turn turn, Drive drive) {
        return DeckModel.designedRadius(machine, turn)
                .flatMap(r -> DeckModel.of(machine, drive).map(m -> m.deck().uncutDiameter(r, turn.sign())))
                .filter(d -> d > LEAST_DIAMETER)
                .orElse(USUAL_DIAMETER);
    }
}
