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
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.uncertainty.PlannedPosterior;

/**
 * How many circles and readings a fair trial takes.
 *
 * <p>A trial must be able to clear as well as to convict. So a design counts by the lower of two chances: that a quantity
 * that is truly 0 is found within the margin, and that one of the size wanted is found beyond it; over several questions, by
 * the lowest. Every cell gets the same number of circles, two at least, and every circle the same number of readings, two at
 * least: with fewer neither scatter nor a slip would show. Only where that takes longer than the time there is, less is
 * planned: one drive, one reading of each circle, fewer machines. Chances are those of each question by itself.
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
        /** Likewise, of less than was asked: all of it takes longer than the time there is. */
        LESS_THAN_ASKED("lessThanAsked"),
        /** None has the chance wanted: three circles a cell and two readings a circle, as is usual. */
        USUAL("usual"),
        /** None: not even the smallest there is, which the design is, fits into the time there is. */
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

    /** The plan of all that was asked: this one, or that for which the time does not do. */
    private final TrialPlan all;

    private final PlanWish wish;
    private final DecisionRule rule;
    private volatile PlannedGeometry geometry;
    private final Map<Integer, PlannedPosterior> posteriors = new HashMap<>();
    private final Map<List<Integer>, Map<PlannedQuestion, VerdictChance>> chances = new HashMap<>();
    private final int leastReadings;
    private final Basis basis;
    private final Design design;

    private TrialPlan(PlanWish wish) {
        this(Optional.empty(), wish, LEAST_READINGS);
    }

    private TrialPlan(Optional<TrialPlan> whole, PlanWish wish, int leastReadings) {
        this.all = whole.orElse(this);
        this.wish = wish;
        this.leastReadings = leastReadings;
        this.rule = new DecisionRule(
                wish.conditions().practicalMargin().metres(), wish.conditions().confidence());
        if (wish.minutes().isPresent()) {
            Optional<Design> inTime = inTime(wish.minutes().getAsDouble());
            design = inTime.orElseGet(() -> design(LEAST_CIRCLES, leastReadings));
            basis = inTime.isEmpty()
                    ? Basis.TOO_LITTLE_TIME
                    : wish.equals(all.wish) && leastReadings == LEAST_READINGS ? Basis.TIME : Basis.LESS_THAN_ASKED;
        } else {
            Optional<Design> cheapest = cheapest(wish.chance());
            design = cheapest.orElseGet(() -> design(USUAL_CIRCLES, LEAST_READINGS));
            basis = cheapest.isPresent() ? Basis.CHEAPEST : Basis.USUAL;
        }
    }

    /**
     * Plans a trial. The same wish gives the same plan.
     *
     * <p>Where all of it takes longer than the time there is, what fits: of the ways to ask less that which keeps most
     * questions, then most machines, then has the highest chance; where none fits, that which takes least time.
     *
     * @param wish of which {@link PlanWish#impossible} says nothing
     * @return with the design that was asked for
     * @throws IllegalArgumentException if {@link PlanWish#impossible} says so
     */
    public static TrialPlan of(PlanWish wish) {
        wish.impossible().ifPresent(why -> {
            throw new IllegalArgumentException(why);
        });
        TrialPlan all = new TrialPlan(wish);
        if (all.basis != Basis.TOO_LITTLE_TIME) {
            return all;
        }
        List<TrialPlan> less = narrower(all);
        return less.stream()
                .filter(plan -> plan.basis != Basis.TOO_LITTLE_TIME)
                .max(Comparator.comparingInt((TrialPlan p) -> p.wish.questions().size())
                        .thenComparingInt(p -> p.wish.machines().size())
                        .thenComparingDouble(p -> p.lowest(p.design))
                        .thenComparingInt(p -> p.leastReadings))
                .orElseGet(() -> less.stream()
                        .min(Comparator.comparingDouble(p -> p.design.minutes()))
                        .orElseThrow());
    }

    /** Every way to ask less that leaves a question: fewer machines, those named last first; one drive; one reading. */
    private static List<TrialPlan> narrower(TrialPlan all) {
        PlanWish wish = all.wish;
        List<TrialPlan> plans = new ArrayList<>();
        for (int machines = wish.machines().size(); machines > 0; machines--) {
            List<Machine> kept = wish.machines().subList(0, machines);
            for (Set<Drive> drives : drives(wish)) {
                Set<PlannedQuestion> questions = wish.questions().stream()
                        .filter(q -> q != PlannedQuestion.DRIVE || drives.size() > 1)
                        .filter(q -> q != PlannedQuestion.SIDE_BY_SIDE || kept.size() > 1)
                        .filter(q -> q != PlannedQuestion.COMPLAINT || canBeHeld(wish, kept))
                        .collect(Collectors.toSet());
                if (!questions.isEmpty()) {
                    PlanWish less = wish.narrowed(kept, questions, drives);
                    plans.add(new TrialPlan(Optional.of(all), less, LEAST_READINGS));
                    plans.add(new TrialPlan(Optional.of(all), less, 1));
                }
            }
        }
        return plans;
    }

    private static List<Set<Drive>> drives(PlanWish wish) {
        List<Set<Drive>> all = new ArrayList<>(List.of(wish.drives()));
        if (wish.drives().size() > 1) {
            wish.drives().stream().sorted().map(Set::of).forEach(all::add);
        }
        return all;
    }

    /** Against a machine known to be good only with another beside it, and one of its own circles at the least. */
    private static boolean canBeHeld(PlanWish wish, List<Machine> machines) {
        if (wish.knownGood().isEmpty()) {
            return true;
        }
        PlanWish.KnownGood good = wish.knownGood().get();
        boolean driven = machines.stream().anyMatch(m -> m.id().equals(good.machine()));
        return machines.size() > (driven ? 1 : 0)
                && (driven || good.circles() > 0 || wish.machines().equals(machines));
    }

    /** {@return what it is planned for: what was asked, or where the time does not do for that, what is left of it} */
    public PlanWish wish() {
        return wish;
    }

    /** {@return what was asked} */
    public PlanWish asked() {
        return all.wish;
    }

    /** {@return the smallest design that answers all that was asked} */
    public Design leastOfAll() {
        return all.design(LEAST_CIRCLES, LEAST_READINGS);
    }

    /** {@return whether each circle is read once only, which {@link #LEAST_READINGS} forbids where there is time} */
    public boolean readOnce() {
        return design.readings() < LEAST_READINGS;
    }

    /** {@return the cheapest design of all that was asked for a chance of 80, 90 and 95 %} */
    public List<Choice> choices() {
        TrialPlan whole = wish.equals(all.wish) ? this : all;
        return CHANCES.stream().map(c -> new Choice(c, whole.cheapest(c))).toList();
    }

    /** What makes a long plan shorter. */
    public enum Shortening {
        /** One drive instead of both. */
        ONE_DRIVE,
        /** A practical margin half as large again, and so the difference to be found. */
        WIDER_MARGIN,
        /** Circles that scatter half as much. */
        EVENER_CIRCLES
    }

    /**
     * A shorter plan with the chance wanted.
     *
     * @param by what makes it shorter
     * @param wish what it is planned for
     * @param design the cheapest
     */
    public record Shorter(Shortening by, PlanWish wish, Design design) {}

    /** {@return what would make the cheapest plan shorter, the shortest first} */
    public List<Shorter> shorter() {
        Map<Shortening, PlanWish> ways = new EnumMap<>(Shortening.class);
        if (wish.drives().size() > 1 && !wish.questions().contains(PlannedQuestion.DRIVE)) {
            ways.put(
                    Shortening.ONE_DRIVE,
                    wish.narrowed(
                            wish.machines(),
                            wish.questions(),
                            Set.of(wish.drives().stream().sorted().findFirst().orElseThrow())));
        }
        ways.put(Shortening.WIDER_MARGIN, wish.withMargin(1.5));
        ways.put(Shortening.EVENER_CIRCLES, wish.scattering(wish.circleRepeatability() / 2));
        return ways.entrySet().stream()
                .flatMap(way -> new TrialPlan(way.getValue())
                        .cheapest(wish.chance()).stream()
                                .map(shortest -> new Shorter(way.getKey(), way.getValue(), shortest)))
                .filter(way -> way.design().minutes() < design.minutes())
                .sorted(Comparator.comparingDouble(way -> way.design().minutes()))
                .toList();
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
                    Math.sqrt(geometry().variance(question))));
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

    /**
     * {@return the highest chance of a wrong verdict over all questions, with and without a difference}
     *
     * @param of number of circles and readings
     */
    public double wrong(Design of) {
        return chances(of.circles(), of.readings()).values().stream()
                .mapToDouble(c -> c.wrong(wish.difference()))
                .max()
                .orElseThrow();
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
        return wish.questions().contains(PlannedQuestion.LEFT_RIGHT)
                && geometry().assumed();
    }

    /** Worked out where it is asked: of the ways to ask less hardly any is looked into. */
    private PlannedGeometry geometry() {
        if (geometry == null) {
            geometry = new PlannedGeometry(wish);
        }
        return geometry;
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
        return IntStream.rangeClosed(leastReadings, MOST_READINGS)
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
        double fixed = geometry().variance(question);
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
