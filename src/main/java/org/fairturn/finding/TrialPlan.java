package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.uncertainty.PlannedPosterior;

/**
 * How many circles and readings a fair trial takes.
 *
 * <p>A trial must be able to clear as well as to convict. So a design counts by the lower of two chances: that a quantity
 * that is truly 0 is found within the margin, and that one of the size wanted is found beyond it; over several questions, by
 * the lowest. Every cell gets the same number of circles, two at least, and every circle the same number of readings, two at
 * least: with fewer neither scatter nor a slip would show. Chances are those of each question by itself.
 *
 * <p>A plan goes on working things out while it is asked, so one thread at a time may ask it.
 */
public final class TrialPlan {
    /** The chances a design is looked for. */
    static final List<Double> CHANCES = List.of(0.8, 0.9, 0.95);

    /** Standard uncertainty (m) what a deck explains is taken to have where nothing is known of the deck yet. */
    public static final double DECK_NOT_KNOWN = PlannedGeometry.DECK_NOT_KNOWN;

    /** More circles a cell than this nobody mows. */
    static final int MOST_CIRCLES = 24;

    static final int LEAST_CIRCLES = 2;
    static final int LEAST_READINGS = 2;
    static final int MOST_READINGS = 3;
    /** What is mown where no design does: common practice, no source. */
    static final int USUAL_CIRCLES = 3;

    /** Values that stand for each sum of squares; with many times as many no chance moves by more than 0.01. */
    static final int BETWEEN = 40;

    static final int WITHIN = 7;
    static final int BETWEEN_OF_TWO = 16;
    static final int WITHIN_OF_TWO = 3;

    /**
     * A design and what it takes.
     *
     * @param circles of each cell
     * @param readings of each circle
     * @param allCircles of the trial
     * @param minutes in all
     */
    public record Design(int circles, int readings, int allCircles, double minutes) {}

    /**
     * A design for a chance; empty where none with up to 24 circles a cell and 3 readings a circle has it.
     *
     * @param chance of the right verdict, in (0, 1)
     * @param design the cheapest that has it
     */
    public record Choice(double chance, Optional<Design> design) {}

    /**
     * What a design can tell of one question.
     *
     * @param question that is to be asked
     * @param within chance of "within the margin" where the quantity is truly 0
     * @param beyond chance of "beyond the margin" where it is truly as large as was to be found
     * @param largestWithin largest true difference (m) found within the margin with the chance wanted; empty where not even
     *     none at all is
     * @param smallestBeyond smallest true difference (m) found beyond it with the chance wanted
     * @param geometry standard uncertainty (m) that no circle makes smaller
     */
    public record Foreseen(
            PlannedQuestion question,
            double within,
            double beyond,
            OptionalDouble largestWithin,
            double smallestBeyond,
            double geometry) {}

    /** How the design that is planned with was come by. */
    public enum Basis {
        /** The cheapest with the chance wanted. */
        CHEAPEST("cheapest"),
        /** The one with the highest chance in the time there is. */
        TIME("time"),
        /** None has the chance wanted: three circles a cell and two readings a circle, as is usual. */
        USUAL("usual"),
        /** The smallest there is, although it takes longer than the time there is. */
        TOO_LITTLE_TIME("tooLittleTime");

        private final String word;

        Basis(String word) {
            this.word = word;
        }

        /** {@return the name JSON gives it} */
        public String word() {
            return word;
        }
    }

    private final PlanWish wish;
    private final DecisionRule rule;
    private final PlannedGeometry geometry;
    private final Map<Integer, PlannedPosterior> posteriors = new HashMap<>();
    private final Map<List<Integer>, Map<PlannedQuestion, VerdictChance>> chances = new HashMap<>();
    private final List<Choice> choices;
    private final Basis basis;
    private final Design design;

    private TrialPlan(PlanWish wish) {
        this.wish = wish;
        this.rule = new DecisionRule(
                wish.conditions().practicalMargin().metres(), wish.conditions().confidence());
        this.geometry = new PlannedGeometry(wish);
        this.choices = CHANCES.stream().map(c -> new Choice(c, cheapest(c))).toList();
        Optional<Design> cheapest = cheapest(wish.chance());
        if (wish.minutes().isPresent()) {
            Optional<Design> inTime = inTime(wish.minutes().getAsDouble());
            design = inTime.orElseGet(() -> design(LEAST_CIRCLES, LEAST_READINGS));
            basis = inTime.isPresent() ? Basis.TIME : Basis.TOO_LITTLE_TIME;
        } else {
            design = cheapest.orElseGet(() -> design(USUAL_CIRCLES, LEAST_READINGS));
            basis = cheapest.isPresent() ? Basis.CHEAPEST : Basis.USUAL;
        }
    }

    /**
     * Plans a trial. The same wish gives the same plan.
     *
     * @param wish of which {@link PlanWish#impossible} says nothing
     * @return with the design that was asked for
     * @throws IllegalArgumentException if {@link PlanWish#impossible} says so
     */
    public static TrialPlan of(PlanWish wish) {
        wish.impossible().ifPresent(why -> {
            throw new IllegalArgumentException(why);
        });
        return new TrialPlan(wish);
    }

    /** {@return what it was planned for} */
    public PlanWish wish() {
        return wish;
    }

    /** {@return the cheapest design for a chance of 80, 90 and 95 %} */
    public List<Choice> choices() {
        return choices;
    }

    /** {@return the design that is planned with} */
    public Design design() {
        return design;
    }

    /** {@return what its numbers rest on} */
    public Basis basis() {
        return basis;
    }

    /**
     * {@return what a design can tell of each question, in the order of the questions}
     *
     * @param of number of circles and readings
     */
    public List<Foreseen> foreseen(Design of) {
        List<Foreseen> result = new ArrayList<>();
        chances(of.circles(), of.readings()).forEach((question, chance) -> {
            double within = chance.largestWithin(wish.chance());
            result.add(new Foreseen(
                    question,
                    chance.within(0),
                    chance.beyond(wish.difference()),
                    within < 0 ? OptionalDouble.empty() : OptionalDouble.of(within),
                    chance.smallestBeyond(wish.chance()),
                    Math.sqrt(geometry.variance(question))));
        });
        return List.copyOf(result);
    }

    /**
     * {@return the lowest chance of a right verdict over all questions, with and without a difference}
     *
     * @param of number of circles and readings
     */
    public double lowest(Design of) {
        return lowest(of.circles(), of.readings());
    }

    /** {@return the circles of each turn and drive a known good machine counts with; empty where a complaint is not held against one} */
    public OptionalInt ofKnownGood() {
        return wish.questions().contains(PlannedQuestion.COMPLAINT)
                        && wish.knownGood().isPresent()
                ? OptionalInt.of(wish.ofKnownGood(design.circles()))
                : OptionalInt.empty();
    }

    /** {@return whether the known good machine is driven with the others} */
    public boolean drivesKnownGood() {
        return wish.drivesKnownGood();
    }

    /** {@return whether what the deck explains is assumed, because neither blades nor deck offset of a machine are known} */
    public boolean deckAssumed() {
        return wish.questions().contains(PlannedQuestion.LEFT_RIGHT) && geometry.assumed();
    }

    private Design design(int circles, int readings) {
        int all = circles * wish.cellsOfAMachine() * wish.machines().size();
        int changes = RunOrder.driveChanges(circles, wish.drives().size())
                * wish.machines().size();
        PlanWish.Pace pace = wish.pace();
        return new Design(
                circles,
                readings,
                all,
                all * (pace.circle() + readings * pace.reading()) + changes * pace.driveChange());
    }

    /** For each number of readings the fewest circles that do; of these the quickest, and of equals that with fewer readings. */
    private Optional<Design> cheapest(double chance) {
        return IntStream.rangeClosed(LEAST_READINGS, MOST_READINGS)
                .mapToObj(readings -> fewest(readings, chance).map(n -> design(n, readings)))
                .flatMap(Optional::stream)
                .min(Comparator.comparingDouble(Design::minutes));
    }

    /** Halving: a further circle a cell never lowers the chance by more than the way it is worked out. */
    private Optional<Integer> fewest(int readings, double chance) {
        if (lowest(MOST_CIRCLES, readings) < chance) {
            return Optional.empty();
        }
        int enough = MOST_CIRCLES;
        int tooFew = LEAST_CIRCLES - 1;
        while (enough - tooFew > 1) {
            int middle = (enough + tooFew) / 2;
            if (lowest(middle, readings) >= chance) {
                enough = middle;
            } else {
                tooFew = middle;
            }
        }
        return Optional.of(enough);
    }

    private Optional<Design> inTime(double minutes) {
        return IntStream.rangeClosed(LEAST_READINGS, MOST_READINGS)
                .boxed()
                .flatMap(readings -> mostCircles(readings, minutes))
                .max(Comparator.comparingDouble((Design d) -> lowest(d.circles(), d.readings()))
                        .thenComparing(
                                Comparator.comparingDouble(Design::minutes).reversed()));
    }

    private Stream<Design> mostCircles(int readings, double minutes) {
        return IntStream.rangeClosed(LEAST_CIRCLES, MOST_CIRCLES)
                .mapToObj(n -> design(n, readings))
                .filter(d -> d.minutes() <= minutes)
                .max(Comparator.comparingInt(Design::circles))
                .stream();
    }

    private double lowest(int circles, int readings) {
        return chances(circles, readings).values().stream()
                .mapToDouble(c -> Math.min(c.within(0), c.beyond(wish.difference())))
                .min()
                .orElseThrow();
    }

    private Map<PlannedQuestion, VerdictChance> chances(int circles, int readings) {
        return chances.computeIfAbsent(List.of(circles, readings), k -> {
            Map<PlannedQuestion, VerdictChance> byQuestion = new EnumMap<>(PlannedQuestion.class);
            wish.questions().forEach(question -> byQuestion.put(question, chance(question, circles, readings)));
            return byQuestion;
        });
    }

    VerdictChance chance(PlannedQuestion question, int circles, int readings) {
        PlannedPosterior planned = posteriors.computeIfAbsent(
                readings,
                r -> new PlannedPosterior(
                        wish.circleRepeatability(),
                        wish.readingRepeatability(),
                        r,
                        Priors.circle(wish.conditions()),
                        Priors.reading(wish.conditions()),
                        MachineEstimate.RESOLUTION));
        int cells = wish.cellsOfAMachine();
        double fixed = geometry.variance(question);
        if (question == PlannedQuestion.SIDE_BY_SIDE) {
            return VerdictChance.ofTwo(
                    planned,
                    planned.outcomes(cells, circles, BETWEEN_OF_TWO, WITHIN_OF_TWO),
                    1.0 / cells / circles,
                    fixed,
                    rule);
        }
        if (question == PlannedQuestion.COMPLAINT && wish.knownGood().isPresent()) {
            return againstKnownGood(planned, circles);
        }
        boolean twoCells = question == PlannedQuestion.LEFT_RIGHT || question == PlannedQuestion.DRIVE;
        boolean claimedByACircle =
                question == PlannedQuestion.CLAIM && wish.statedUncertainty().isEmpty();
        return VerdictChance.of(
                planned,
                planned.outcomes(cells, circles, BETWEEN, WITHIN),
                (twoCells ? 2.0 : 1.0) / circles,
                fixed,
                claimedByACircle ? 1 : 0,
                rule);
    }

    /** Both machines scatter alike and were measured with the same tape and eye. */
    private VerdictChance againstKnownGood(PlannedPosterior planned, int circles) {
        int cells = wish.cellsOfAMachine();
        int good = wish.ofKnownGood(circles);
        List<PlannedPosterior.Outcome> outcomes = planned.outcomes(cells, circles, BETWEEN_OF_TWO, WITHIN_OF_TWO);
        return good == circles
                ? VerdictChance.ofTwo(planned, outcomes, 1.0 / circles, 0, rule)
                : VerdictChance.ofTwo(
                        planned,
                        outcomes,
                        1.0 / circles,
                        planned.outcomes(cells, good, BETWEEN_OF_TWO, WITHIN_OF_TWO),
                        1.0 / good,
                        rule);
    }
}
