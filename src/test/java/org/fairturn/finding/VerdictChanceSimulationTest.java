package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.HalfT;
import org.fairturn.uncertainty.PlannedPosterior;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Whether the chances that are promised are kept by trials drawn at random. */
class VerdictChanceSimulationTest {
    private static final double MM = 1e-3;

    @Test
    void fewPointsForTheData_giveWhatManyGive() {
        DecisionRule rule = new DecisionRule(0.05, 0.95);
        for (double sigma : new double[] {0.008, 0.02}) {
            for (int n : new int[] {2, 3, 8}) {
                var planned = new PlannedPosterior(sigma, 0.01, 2, new HalfT(0.05), new HalfT(0.02), 0.0003);
                var few = planned.outcomes(2, n, TrialPlan.BETWEEN, TrialPlan.WITHIN);
                var many = planned.outcomes(2, n, 120, 21);
                same(
                        VerdictChance.of(planned, few, 2.0 / n, 1e-4, 0, rule),
                        VerdictChance.of(planned, many, 2.0 / n, 1e-4, 0, rule));
                same(
                        VerdictChance.ofTwo(
                                planned,
                                planned.outcomes(2, n, TrialPlan.BETWEEN_OF_TWO, TrialPlan.WITHIN_OF_TWO),
                                0.5 / n,
                                0,
                                rule),
                        VerdictChance.ofTwo(
                                planned, planned.outcomes(2, n, 40, TrialPlan.WITHIN_OF_TWO), 0.5 / n, 0, rule));
            }
        }
    }

    private static void same(VerdictChance few, VerdictChance many) {
        assertThat(few.within(0)).isCloseTo(many.within(0), within(0.01));
        assertThat(few.beyond(0.1)).isCloseTo(many.beyond(0.1), within(0.01));
    }

    /** A design, and truths whose verdict is neither certain nor hopeless. */
    private enum Simulated {
        DRIVE(PlannedQuestion.DRIVE, 25, 4, 2, 0, 105),
        LEFT_RIGHT(PlannedQuestion.LEFT_RIGHT, 8, 4, 2, 0, 100),
        CLAIM(PlannedQuestion.CLAIM, 12, 4, 2, 0, 90),
        SIDE_BY_SIDE(PlannedQuestion.SIDE_BY_SIDE, 30, 3, 2, 0, 110);

        private final PlannedQuestion question;
        private final double sigma;
        private final int circles;
        private final int readings;
        private final double alike;
        private final double unlike;

        Simulated(PlannedQuestion question, double sigma, int circles, int readings, double alike, double unlike) {
            this.question = question;
            this.sigma = sigma;
            this.circles = circles;
            this.readings = readings;
            this.alike = alike;
            this.unlike = unlike;
        }
    }

    private static final double SIGMA_W = 10;

    /**
     * Trials drawn from the truths planned for and put to the questions: the right verdict comes as often as promised, to
     * three standard deviations of so few trials and 0.01 for the way the chance is worked out. With {@code -Dtrials=2500}
     * the same is a run of some minutes.
     */
    @ParameterizedTest
    @EnumSource
    void promisedChance_isKept(Simulated s) {
        int trials = Integer.getInteger("trials", 100);
        VerdictChance promised = promised(s);
        for (boolean alike : new boolean[] {true, false}) {
            double truth = (alike ? s.alike : s.unlike) * MM;
            double promise = alike ? promised.within(truth) : promised.beyond(truth);
            Random random = new Random(20260522 + s.circles);
            int kept = 0;
            for (int i = 0; i < trials; i++) {
                kept += verdict(s, answers(s, drawn(s, truth / MM, random).trial()))
                                .equals(alike ? "within" : "beyond")
                        ? 1
                        : 0;
            }
            double share = (double) kept / trials;
            System.out.printf(Locale.ROOT, "%s, %s: promised %.3f, kept %.3f%n", s, truth, promise, share);
            assertThat(promise).isBetween(0.3, 0.97);
            assertThat(share).isCloseTo(promise, within(0.01 + 3 * Math.sqrt(promise * (1 - promise) / trials)));
        }
    }

    /** The one question as an analysis asks it, without all the others and what would overturn its verdict. */
    private static Stream<Finding> answers(Simulated s, Trial trial) {
        Asked asked = Trials.asked(trial);
        MachineEstimate machine = asked.machines().get(0);
        return switch (s.question) {
            case DRIVE -> Answer.findings(DriveCost.of(machine, asked)).stream();
            case LEFT_RIGHT ->
                Stream.of(LeftRight.of(machine, Drive.TWO_WHEEL, Brakes.NONE, asked.rule(), asked.wording())
                        .finding());
            case CLAIM -> Answer.findings(Claims.of(asked).answers()).stream();
            default -> Answer.findings(Comparison.of(asked).orElseThrow().answers()).stream();
        };
    }

    /** What the simulation leaves out of an analysis changes no verdict. */
    @ParameterizedTest
    @EnumSource
    void simulatedAnswers_areThoseOfAWholeAnalysis(Simulated s) {
        Random random = new Random(20260524);
        for (double truth : new double[] {s.alike, s.unlike}) {
            Trial trial = drawn(s, truth, random).trial();
            assertThat(verdict(s, answers(s, trial))).isEqualTo(verdict(s, Analysis.of(trial).findings().stream()));
        }
    }

    private static VerdictChance promised(Simulated s) {
        Trial trial = drawn(s, 0, new Random(1)).trial();
        List<Machine> machines = trial.machines();
        PlanWish wish = new PlanWish(
                trial.conditions(),
                machines,
                Set.of(s.question),
                Set.of(Drive.TWO_WHEEL),
                s.sigma * MM,
                SIGMA_W * MM,
                s.unlike * MM,
                OptionalDouble.empty(),
                PlanWish.Pace.USUAL,
                0.9,
                OptionalDouble.empty());
        return TrialPlan.of(wish).chance(s.question, s.circles, s.readings);
    }

    private static String verdict(Simulated s, Stream<Finding> findings) {
        return (switch (s.question) {
                    case DRIVE ->
                        findings.filter(f -> f.question() == Question.DRIVE
                                && f.subject().get("turn").equals("left"));
                    case LEFT_RIGHT -> findings.filter(f -> f.question() == Question.LEFT_RIGHT);
                    case CLAIM -> findings.filter(f -> f.question() == Question.CLAIM);
                    default ->
                        findings.filter(f -> f.question() == Question.SIDE_BY_SIDE
                                && f.subject().get("turn").equals("all"));
                })
                .map(f -> f.verdict().word().equals("wider")
                        ? "beyond"
                        : f.verdict().word())
                .findFirst()
                .orElseThrow();
    }

    private static Trials drawn(Simulated s, double truth, Random random) {
        Trials trials = Trials.inMillimetres().machine("Alder");
        switch (s.question) {
            case DRIVE -> {
                for (Turn turn : Turn.values()) {
                    drive(trials, s, turn, Drive.TWO_WHEEL, 1800, random);
                    drive(trials, s, turn, Drive.FOUR_WHEEL, 1800 + truth, random);
                }
            }
            case LEFT_RIGHT -> {
                // the deck sits a little off where it was measured to sit; each millimetre makes four between the
                // circles
                trials.deckOffset(0);
                drive(trials, s, Turn.LEFT, Drive.TWO_WHEEL, 1800, random);
                drive(trials, s, Turn.RIGHT, Drive.TWO_WHEEL, 1800 + truth + 4 * 5 * random.nextGaussian(), random);
            }
            case CLAIM -> {
                drive(trials, s, Turn.LEFT, Drive.TWO_WHEEL, 1800, random);
                drive(trials, s, Turn.RIGHT, Drive.TWO_WHEEL, 1800, random);
                // one circle with one reading by another eye; the trial's own eye is off as well
                double eye = 2 * 5 / Math.sqrt(3);
                double claimed = 1800
                        + truth
                        + s.sigma * random.nextGaussian()
                        + SIGMA_W * random.nextGaussian()
                        + Math.sqrt(2) * eye * random.nextGaussian();
                trials.claim(
                        "c",
                        claimed,
                        Claim.Quantity.UNCUT_DIAMETER,
                        "Alder",
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.of(Brakes.NONE));
            }
            default -> {
                drive(trials, s, Turn.LEFT, Drive.TWO_WHEEL, 1700, random);
                drive(trials, s, Turn.RIGHT, Drive.TWO_WHEEL, 1800, random);
                trials.machine("Basalt");
                drive(trials, s, Turn.LEFT, Drive.TWO_WHEEL, 1700 + truth, random);
                drive(trials, s, Turn.RIGHT, Drive.TWO_WHEEL, 1800 + truth, random);
            }
        }
        return trials;
    }

    private static void drive(Trials trials, Simulated s, Turn turn, Drive drive, double diameter, Random random) {
        for (int i = 0; i < s.circles; i++) {
            double disc = diameter + s.sigma * random.nextGaussian();
            double[] readings = new double[s.readings];
            for (int j = 0; j < readings.length; j++) {
                readings[j] = disc + SIGMA_W * random.nextGaussian();
            }
            trials.circle(trials.trial().circles().size() + " " + turn + drive + i, turn, drive, readings);
        }
    }
}
