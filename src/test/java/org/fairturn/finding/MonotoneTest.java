package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import org.assertj.core.data.Offset;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.CircleData;
import org.fairturn.uncertainty.CircleSummary;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.HalfT;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** What may only go one way, and what a mirror or another unit must leave alone. */
class MonotoneTest {
    /** Beyond the margin, undecided, within it: in this order as the margin grows. */
    private static int rank(DecisionRule rule, NormalMixture q) {
        return rule.decide(q, DecisionRule.Asks.UNSIGNED)
                .map(v -> v.word().equals("within") ? 2 : 0)
                .orElse(1);
    }

    @Test
    void largerMargin_neverLeadsBack() {
        SplittableRandom random = new SplittableRandom(31);
        for (int i = 0; i < 300; i++) {
            int parts = random.nextInt(1, 5);
            NormalMixture q = new NormalMixture(
                    random.doubles(parts, 0.01, 1).toArray(),
                    random.doubles(parts, -0.3, 0.3).toArray(),
                    random.doubles(parts, -14, 0).map(Math::exp).toArray());
            double confidence = random.nextDouble(0.51, 0.9999);
            int before = 0;
            for (double margin = 1e-6; margin < 10; margin *= 1.3) {
                int now = rank(new DecisionRule(margin, confidence), q);
                assertThat(now).as("margin %s", margin).isGreaterThanOrEqualTo(before);
                before = now;
            }
            assertThat(before).isEqualTo(2);
        }
    }

    private static CircleSummary circle(double... readings) {
        double[] w = new double[readings.length];
        Arrays.fill(w, 1);
        return CircleSummary.of(readings, w);
    }

    private static Estimate difference(CircleData data, double scale, double level) {
        return RepeatabilityPosterior.of(data, new HalfT(scale), new HalfT(scale), MachineEstimate.RESOLUTION)
                .contrast(new double[] {-1, 1}, 0, 0)
                .estimate(level);
    }

    /** The same readings, believed less: the interval does not narrow, from tenths of a millimetre to 10 m. */
    @Test
    void largerAssumedRepeatability_neverNarrows() {
        SplittableRandom random = new SplittableRandom(32);
        for (int i = 0; i < 10; i++) {
            double scatter = Math.exp(random.nextDouble(-9, -2));
            List<List<CircleSummary>> cells = new ArrayList<>();
            for (int k = 0; k < 2; k++) {
                List<CircleSummary> cell = new ArrayList<>();
                for (int c = random.nextInt(1, 4); c > 0; c--) {
                    cell.add(circle(random.doubles(2, 2 - scatter, 2 + scatter).toArray()));
                }
                cells.add(cell);
            }
            CircleData data = new CircleData(cells);
            double before = 0;
            for (double scale = 1e-4; scale < 10; scale *= 2.5) {
                double now = difference(data, scale, 0.95).halfWidth();
                assertThat(now).as("scale %s, scatter %s", scale, scatter).isGreaterThan(before * (1 - 1e-6));
                before = now;
            }
        }
    }

    /** Nor does a higher level. */
    @Test
    void higherConfidence_neverNarrows() {
        CircleData data = new CircleData(
                List.of(List.of(circle(1.6, 1.61), circle(1.65)), List.of(circle(1.78, 1.76), circle(1.8, 1.81))));
        double before = 0;
        for (double level : new double[] {0.51, 0.6, 0.8, 0.95, 0.99, 0.9999}) {
            double now = difference(data, 0.05, level).halfWidth();
            assertThat(now).as("level %s", level).isGreaterThan(before);
            before = now;
        }
    }

    /** One circle in each of two cells, the same reading again and again: from one reading to a thousand. */
    @Test
    void furtherReadingsOfTheSameValue_neverWiden() {
        double before = Double.POSITIVE_INFINITY;
        for (int n : new int[] {1, 2, 3, 4, 6, 10, 30, 100, 1000}) {
            double[] same = new double[n];
            Arrays.fill(same, 1.7);
            double now = difference(new CircleData(List.of(List.of(circle(same)), List.of(circle(same)))), 0.05, 0.95)
                    .halfWidth();
            assertThat(now).as("%d readings", n).isLessThan(before * (1 + 1e-6)).isPositive();
            before = now;
        }
    }

    /** Stops, claims, a reference and both drives, so that every question has something to turn round. */
    private static Trial full(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        Trials trials =
                Trials.inMillimetres().margin(random.nextDouble(20, 120)).machine("Alder");
        trials.deckOfThree(random.nextDouble(-60, 60))
                .steering(1450, 950, random.nextDouble(55, 60), random.nextDouble(55, 60))
                .stop(Turn.LEFT, 28, 28 + random.nextDouble(-2, 2), Double.NaN, 80)
                .stop(Turn.RIGHT, 28, 28 + random.nextDouble(-2, 2), Double.NaN, 80);
        for (Drive drive : Drive.values()) {
            for (Turn turn : Turn.values()) {
                double cell = random.nextDouble(1500, 1900) + (drive == Drive.FOUR_WHEEL ? 400 : 0);
                trials.reference(random.nextDouble(1500, 1900), turn, drive, 10, "manual");
                for (int i = random.nextInt(1, 4); i > 0; i--) {
                    double d = cell + random.nextDouble(-40, 40);
                    trials.circle("" + drive + turn + i, turn, drive, d, d + random.nextDouble(-9, 9));
                }
            }
        }
        return trials.claim(
                        "K",
                        random.nextDouble(1500, 1900),
                        Claim.Quantity.UNCUT_DIAMETER,
                        "Alder",
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.empty())
                .trial();
    }

    private static Map<String, String> mirrored(Map<String, String> subject) {
        Map<String, String> other = new LinkedHashMap<>();
        subject.forEach((k, v) -> other.put(
                k, v.replace("left", "\u0000").replace("right", "left").replace("\u0000", "right")));
        return other;
    }

    /** Relative, or of a micrometre where a number is nothing. */
    private static Offset<Double> nearly(double value) {
        return within(1e-9 * Math.max(Math.abs(value), 1));
    }

    /** What counts right less left turns round; everything else stays. */
    @Test
    void mirror_turnsDifferencesOfTheTurnsRound_andLeavesAllElse() {
        for (int seed = 0; seed < 6; seed++) {
            Trial trial = full(seed);
            Analysis a = Analysis.of(trial);
            List<Finding> others =
                    new ArrayList<>(Analysis.of(Trials.mirrored(trial)).findings());
            assertThat(others).hasSameSizeAs(a.findings());
            for (Finding finding : a.findings()) {
                Finding other = others.stream()
                        .filter(f -> f.question() == finding.question()
                                && f.subject().equals(mirrored(finding.subject())))
                        .findFirst()
                        .orElseThrow(() -> new AssertionError("no mirrored " + finding.subject()));
                boolean turns = finding.question() == Question.LEFT_RIGHT
                        || (finding.question() == Question.DRIVE
                                && finding.subject().get("turn").equals("both"));
                int sign = turns ? -1 : 1;
                String as = seed + " " + finding.question() + " " + finding.subject();
                assertThat(other.verdict().word())
                        .as(as)
                        .isEqualTo(finding.verdict().word());
                assertThat(other.holdsInFamily()).as(as).isEqualTo(finding.holdsInFamily());
                assertThat(other.estimate().isPresent())
                        .isEqualTo(finding.estimate().isPresent());
                if (finding.estimate().isEmpty()) {
                    continue;
                }
                Estimate x = finding.estimate().get();
                Estimate y = other.estimate().orElseThrow();
                assertThat(sign * y.value()).as(as).isCloseTo(x.value(), nearly(x.value()));
                assertThat(turns ? -y.high() : y.low()).as(as).isCloseTo(x.low(), nearly(x.low()));
                assertThat(turns ? -y.low() : y.high()).as(as).isCloseTo(x.high(), nearly(x.high()));
                assertThat(y.standardUncertainty())
                        .as(as)
                        .isCloseTo(x.standardUncertainty(), nearly(x.standardUncertainty()));
                assertThat(other.verdict().probability())
                        .as(as)
                        .isCloseTo(finding.verdict().probability(), within(1e-9));
                assertThat(other.standsUpTo().orElse(0))
                        .as(as)
                        .isCloseTo(finding.standsUpTo().orElse(0), within(1e-9));
                for (Part part : finding.parts()) {
                    assertThat(sign * other.part(part.name()).orElseThrow().estimate())
                            .as(as + " " + part.name())
                            .isCloseTo(part.estimate(), nearly(part.estimate()));
                }
                assertThat(other.robustness().map(r -> r.fallsWithout().size()))
                        .as(as)
                        .isEqualTo(
                                finding.robustness().map(r -> r.fallsWithout().size()));
            }
        }
    }

    /** The same length typed in any unit, from 0.1 mm to 300 m: to 1e-12 of itself. */
    @Test
    void unitOfALength_isNoMoreThanItsLastDigit() {
        SplittableRandom random = new SplittableRandom(33);
        for (int i = 0; i < 2000; i++) {
            double inches = Math.rint(Math.exp(random.nextDouble(-5, 9)) * 1000 + 4) / 1000;
            double metres = inches * 0.0254;
            String[] typed = {
                String.format(Locale.ROOT, "%.3f in", inches),
                String.format(Locale.ROOT, "%.4f mm", inches * 25.4),
                String.format(Locale.ROOT, "%.5f cm", inches * 2.54),
                String.format(Locale.ROOT, "%.7f m", metres)
            };
            for (String text : typed) {
                assertThat(Length.parse(text, LengthUnit.FOOT).orThrow().metres())
                        .as(text)
                        .isCloseTo(metres, within(1e-12 * metres));
            }
        }
    }
}
