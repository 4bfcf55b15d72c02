package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.assertj.core.data.Offset;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** What has to hold for any trial, on random unbalanced ones, and at the limits. */
class PropertiesTest {
    private static final int TRIALS = 12;
    /** m: rounding only, some thousand operations on numbers of about 2. */
    private static final Offset<Double> ROUNDING = within(1e-9);

    /** Four cells of one to four circles of one to three readings of all kinds; the same numbers in any unit. */
    private static Trials random(int seed, LengthUnit unit) {
        var random = new SplittableRandom(seed);
        double mm = LengthUnit.MILLIMETRE.metres() / unit.metres();
        Trials trials =
                Trials.in(unit).margin(50 * mm).edge(6 * mm).machine("Alder").deckOfThree(random.nextDouble(-60, 60));
        if (random.nextBoolean()) {
            trials.steering(1450 * mm, 950 * mm, random.nextDouble(55, 60), random.nextDouble(55, 60));
        }
        for (Drive drive : Drive.values()) {
            for (Turn turn : Turn.values()) {
                double cell = random.nextDouble(1500, 1900) + (drive == Drive.FOUR_WHEEL ? 400 : 0);
                for (int i = random.nextInt(1, 5); i > 0; i--) {
                    trials.circle("" + drive + turn + i, turn, drive);
                    double d = cell + random.nextDouble(-40, 40);
                    for (int j = random.nextInt(1, 4); j > 0; j--) {
                        double slip = random.nextDouble(-15, 15);
                        double rise = d * random.nextDouble(0.2, 0.4);
                        switch (random.nextInt(4)) {
                            case 0 ->
                                trials.chordAndRise(2 * Math.sqrt(rise * (d - rise)) * mm, (rise + slip / 4) * mm);
                            case 1 -> trials.threeStakes(0.86 * d * mm, (0.87 * d + slip) * mm, 0.87 * d * mm);
                            default -> trials.across((d + slip) * mm);
                        }
                    }
                    if (random.nextInt(5) == 0) {
                        trials.points(8, d * mm);
                    }
                }
            }
        }
        return trials;
    }

    private static void same(Estimate found, Estimate expected) {
        assertThat(found.value()).isCloseTo(expected.value(), ROUNDING);
        assertThat(found.standardUncertainty()).isCloseTo(expected.standardUncertainty(), ROUNDING);
        assertThat(found.low()).isCloseTo(expected.low(), ROUNDING);
        assertThat(found.high()).isCloseTo(expected.high(), ROUNDING);
    }

    private static void negated(Estimate found, Estimate expected) {
        same(
                found,
                new Estimate(
                        -expected.value(),
                        expected.standardUncertainty(),
                        -expected.high(),
                        -expected.low(),
                        expected.level()));
    }

    private static void same(Analysis found, Analysis expected) {
        for (int k = 0; k < expected.cells().size(); k++) {
            same(found.cells().get(k).diameter(), expected.cells().get(k).diameter());
            same(
                    found.cells().get(k).turnRadius().orElseThrow(),
                    expected.cells().get(k).turnRadius().orElseThrow());
        }
        for (int i = 0; i < expected.differences().size(); i++) {
            same(
                    found.differences().get(i).estimate(),
                    expected.differences().get(i).estimate());
        }
        for (int i = 0; i < expected.findings().size(); i++) {
            Finding a = found.findings().get(i);
            Finding b = expected.findings().get(i);
            same(a.estimate().orElseThrow(), b.estimate().orElseThrow());
            assertThat(a.verdict().word()).isEqualTo(b.verdict().word());
            assertThat(a.holdsInFamily()).isEqualTo(b.holdsInFamily());
            assertThat(a.standsUpTo().orElse(0)).isCloseTo(b.standsUpTo().orElse(0), within(1e-6));
        }
    }

    @Test
    void mirroredTrial_givesTheMirroredAnswer() {
        for (int seed = 0; seed < TRIALS; seed++) {
            Trial trial = random(seed, LengthUnit.MILLIMETRE).trial();
            Analysis a = Analysis.of(trial);
            Analysis b = Analysis.of(Trials.mirrored(trial));
            for (int k = 0; k < 4; k++) {
                same(a.cells().get(k).diameter(), b.cells().get(k ^ 1).diameter());
                same(
                        a.cells().get(k).turnRadius().orElseThrow(),
                        b.cells().get(k ^ 1).turnRadius().orElseThrow());
            }
            for (int i = 0; i < 2; i++) {
                Asymmetry x = a.asymmetries().get(i);
                Asymmetry y = b.asymmetries().get(i);
                negated(
                        x.finding().estimate().orElseThrow(),
                        y.finding().estimate().orElseThrow());
                for (Part part : x.finding().parts()) {
                    assertThat(part.estimate())
                            .isCloseTo(
                                    -y.finding().part(part.name()).orElseThrow().estimate(), ROUNDING);
                }
                assertThat(x.geometry().orElseThrow().equalisingOffset())
                        .isCloseTo(-y.geometry().orElseThrow().equalisingOffset(), ROUNDING);
                assertThat(x.finding().verdict().word())
                        .isEqualTo(y.finding().verdict().word());
            }
        }
    }

    @Test
    void inchAndMetric_areTheSameTrial() {
        for (int seed = 0; seed < TRIALS; seed++) {
            same(
                    random(seed, LengthUnit.INCH).analysed(),
                    random(seed, LengthUnit.MILLIMETRE).analysed());
        }
    }

    @Test
    void orderAndNames_changeNothing() {
        for (int seed = 0; seed < TRIALS; seed++) {
            Trial trial = random(seed, LengthUnit.MILLIMETRE).trial();
            var random = new Random(seed);
            List<Circle> circles = new ArrayList<>();
            for (Circle c : trial.circles()) {
                List<Reading> readings = new ArrayList<>(c.readings());
                Collections.shuffle(readings, random);
                circles.add(new Circle(
                        "renamed " + c.id(),
                        new Cell(
                                "Zelkova",
                                c.cell().turn(),
                                c.cell().drive(),
                                c.cell().brakes()),
                        c.order(),
                        c.laps(),
                        c.use(),
                        c.remark(),
                        c.row(),
                        readings,
                        c.perimeter()));
            }
            Collections.shuffle(circles, random);
            Machine m = trial.machines().get(0);
            var blades = new ArrayList<>(m.blades());
            Collections.shuffle(blades, random);
            Machine renamed = new Machine(
                    "Zelkova",
                    m.label(),
                    m.wheelbase(),
                    m.frontTrack(),
                    m.leftLock(),
                    m.rightLock(),
                    m.deckOffset(),
                    m.turnCentreShift(),
                    blades,
                    m.stops());
            same(
                    Analysis.of(new Trial("elsewhere", trial.conditions(), List.of(renamed), circles, List.of())),
                    Analysis.of(trial));
        }
    }

    @Test
    void sameTrial_givesTheSameDigits() {
        Analysis once = random(5, LengthUnit.MILLIMETRE).analysed();
        Analysis again = random(5, LengthUnit.MILLIMETRE).analysed();
        assertThat(again.cells()).isEqualTo(once.cells());
        assertThat(again.findings()).isEqualTo(once.findings());
    }

    @Test
    void partsAndRemainder_addUpToTheMeasuredDifference() {
        for (int seed = 0; seed < TRIALS; seed++) {
            for (Asymmetry asymmetry :
                    random(seed, LengthUnit.MILLIMETRE).analysed().asymmetries()) {
                Finding finding = asymmetry.finding();
                double measured = finding.part("measured").orElseThrow().estimate();
                double explained = finding.parts().stream()
                        .filter(p -> !p.name().equals("measured"))
                        .mapToDouble(Part::estimate)
                        .sum();
                assertThat(explained + finding.estimate().orElseThrow().value()).isCloseTo(measured, within(1e-12));
            }
        }
    }

    /** Its variance is the geometry's and the readings' together; the readings' part is that of a contrast of the two cells. */
    @Test
    void remainder_carriesTheGeometryOnTopOfTheReadings() {
        for (int seed = 0; seed < TRIALS; seed++) {
            for (Asymmetry asymmetry :
                    random(seed, LengthUnit.MILLIMETRE).analysed().asymmetries()) {
                double u = asymmetry.finding().estimate().orElseThrow().standardUncertainty();
                double measured = asymmetry.measured().orElseThrow().estimate().standardUncertainty();
                double geometry = asymmetry.geometry().orElseThrow().contributions().stream()
                        .mapToDouble(c -> c.effect() * c.effect())
                        .sum();
                assertThat(u * u - geometry).isPositive();
                assertThat(u).isGreaterThan(Math.sqrt(geometry)).isGreaterThan(0.9 * measured);
                // the readings enter with slopes 1 − (cos φ_right/cos φ − 1)/2 and so on, which lie close to 1
                assertThat(Math.sqrt(u * u - geometry)).isCloseTo(measured, within(0.1 * measured));
            }
        }
    }

    /**
     * JCGM 101:2008: distributions propagated through the formulas, with a fixed seed, in place of slopes. 40 000 draws know a
     * standard deviation to 0.35 % and a mean to u/200; the rest of the tolerance is curvature, which slopes leave out.
     */
    @Test
    void linearPropagation_agreesWithMonteCarlo() {
        Analysis analysis = random(3, LengthUnit.MILLIMETRE).analysed();
        for (Asymmetry asymmetry : analysis.asymmetries()) {
            MachineEstimate machine = analysis.machines().get(0);
            double[] d = {machine.mean(asymmetry.left()), machine.mean(asymmetry.right())};
            double[] u = new double[2];
            for (int i = 0; i < 2; i++) {
                Cell cell = i == 0 ? asymmetry.left() : asymmetry.right();
                CellEstimate estimate = analysis.cells().stream()
                        .filter(c -> c.cell().equals(cell))
                        .findFirst()
                        .orElseThrow();
                double all = estimate.diameter().standardUncertainty();
                u[i] = Math.sqrt(all * all - estimate.shared().variance());
            }
            double locks = asymmetry.finding().part("lockAngles").isPresent() ? lockDifference(machine.machine()) : 0;
            var random = new Random(20260520);
            int n = 40_000;
            double sum = 0;
            double squares = 0;
            double expected = asymmetry.finding().estimate().orElseThrow().value();
            for (int i = 0; i < n; i++) {
                double shift = 0.001 * (asymmetry.left().drive() == Drive.TWO_WHEEL ? 25 : 50) * random.nextGaussian();
                double sideways = 0.005 * random.nextGaussian();
                double[][] blades = machine.machine().blades().stream()
                        .map(b -> new double[] {
                            b.ahead().value().metres() + 0.005 * random.nextGaussian() - shift,
                            b.left().value().metres() + sideways,
                            b.tipRadius().value().metres() + 0.002 * random.nextGaussian()
                        })
                        .toArray(double[][]::new);
                double edge = 2 * 0.006 / Math.sqrt(3) * random.nextGaussian();
                double left = d[0] + u[0] * random.nextGaussian() + edge;
                double right = d[1] + u[1] * random.nextGaussian() + edge;
                double r = (radius(left, 1, blades) + radius(right, -1, blades)) / 2;
                double q = right - left - (disc(r + locks / 2, -1, blades) - disc(r - locks / 2, 1, blades)) - expected;
                sum += q;
                squares += q * q;
            }
            double mean = sum / n;
            double sd = Math.sqrt(squares / n - mean * mean);
            double linear = asymmetry.finding().estimate().orElseThrow().standardUncertainty();
            assertThat(sd).isCloseTo(linear, within(0.015 * linear));
            assertThat(mean).isCloseTo(0, within(0.04 * linear));
        }
    }

    private static double lockDifference(Machine m) {
        double wheelbase = m.wheelbase().orElseThrow().value().metres();
        return wheelbase / Math.tan(m.rightLock().orElseThrow().radians())
                - wheelbase / Math.tan(m.leftLock().orElseThrow().radians());
    }

    private static double radius(double d, int side, double[][] blades) {
        double r = Double.NEGATIVE_INFINITY;
        for (double[] b : blades) {
            r = Math.max(r, side * b[1] + Math.sqrt((d / 2 + b[2]) * (d / 2 + b[2]) - b[0] * b[0]));
        }
        return r;
    }

    private static double disc(double r, int side, double[][] blades) {
        double nearest = Double.POSITIVE_INFINITY;
        for (double[] b : blades) {
            nearest = Math.min(nearest, Math.hypot(b[0], r - side * b[1]) - b[2]);
        }
        return 2 * nearest;
    }

    @Test
    void oneCircleWithOneReading_isAnswered() {
        Analysis analysis = Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(0)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .analysed();
        CellEstimate cell = analysis.cells().get(0);
        assertThat(cell.diameter().value()).isCloseTo(1.60078, within(1e-5));
        // the priors alone: σ_b and σ_w half-t with 4 degrees of freedom, E[σ²] = 2·scale² each; a σ so large that all
        // beyond it carry less than about 1e-9 is left out, which takes 7e-5 off the root of so heavy a tail
        double prior =
                Math.sqrt(2 * 0.05 * 0.05 + 2 * 0.02 * 0.02 + cell.shared().variance());
        assertThat(cell.diameter().standardUncertainty()).isCloseTo(prior, within(2e-4 * prior));
        assertThat(cell.restsOnAssumption()).isTrue();
        assertThat(cell.turnRadius()).isPresent();
        assertThat(analysis.differences()).isEmpty();
    }

    /** A tip radius less its uncertainty used to be refused as a blade, and the analysis stopped. */
    @Test
    void tipRadiusKnownWorseThanItsSize_isAnsweredWidely() {
        CellEstimate cell = oneBladeKnownTo(5, 500);
        // R = √((D/2 + r)² − x²) with D = 1.6 m, r = 0.24 m, x = 0.7 m: ∂R/∂r = 1.04/0.769
        assertThat(cell.turnRadius().orElseThrow().standardUncertainty()).isBetween(0.5, 0.8);
    }

    /** Where the geometry could follow neither one uncertainty up nor one down, it used to count as exactly known. */
    @Test
    void bladeKnownWorseThanItsReach_isAnsweredWidely() {
        CellEstimate cell = oneBladeKnownTo(2000, 2);
        // half of it takes the blade from 0.7 to −0.3 m: √(1.04² − 0.7²) − √(1.04² − 0.3²) = −0.227 m, twice for
        // all of it
        assertThat(cell.turnRadius().orElseThrow().standardUncertainty()).isGreaterThan(0.45);
    }

    private static CellEstimate oneBladeKnownTo(double ahead, double tipRadius) {
        return Trials.inMillimetres()
                .machine("Alder")
                .blade(700, 0, 240)
                .bladeKnownTo(ahead, tipRadius)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1601)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1602, 1600)
                .analysed()
                .cells()
                .get(0);
    }

    @Test
    void identicalReadings_doNotClaimPerfection() {
        Trials trials = Trials.inMillimetres().machine("Alder").deckOfThree(0);
        for (int i = 0; i < 3; i++) {
            trials.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL, 1600, 1600)
                    .circle("r" + i, Turn.RIGHT, Drive.TWO_WHEEL, 1600, 1600);
        }
        Analysis analysis = trials.analysed();
        assertThat(analysis.machines().get(0).posterior().settled()).isTrue();
        Difference difference = analysis.differences().get(0);
        assertThat(difference.estimate().value()).isCloseTo(0, within(1e-12));
        assertThat(difference.estimate().standardUncertainty()).isBetween(1e-5, 0.003);
        assertThat(difference.dataOnly()).isEmpty();
    }

    @Test
    void thousandCircles_settleOnTheirMean() {
        var random = new Random(1);
        Trials trials = Trials.inMillimetres().machine("Alder").deckOfThree(0);
        double[] sum = new double[2];
        for (int i = 0; i < 1000; i++) {
            double d = 1600 + 25 * random.nextGaussian();
            sum[i % 2] += d + 2 * 625 / d;
            trials.circle("c" + i, i % 2 == 0 ? Turn.LEFT : Turn.RIGHT, Drive.TWO_WHEEL, d, d);
        }
        Analysis analysis = trials.analysed();
        MachineEstimate machine = analysis.machines().get(0);
        assertThat(machine.posterior().settled()).isTrue();
        Difference difference = analysis.differences().get(0);
        assertThat(difference.estimate().value()).isCloseTo((sum[1] - sum[0]) / 500 / 1000, within(1e-6));
        // large samples: the interval is the data's own
        var data = difference.dataOnly().orElseThrow().estimate();
        assertThat(difference.estimate().halfWidth()).isCloseTo(data.halfWidth(), within(0.02 * data.halfWidth()));
        assertThat(difference.restsOnAssumption()).isFalse();
    }

    /** What more circles do to the mark: one a cell tells nothing of the scatter, two say enough in four cells. */
    @Test
    void mark_goesWithTheSecondCircle() {
        for (int circles = 1; circles <= 3; circles++) {
            int marked = 0;
            for (int seed = 0; seed < 8; seed++) {
                var random = new Random(seed);
                Trials trials = Trials.inMillimetres().machine("Alder");
                for (Drive drive : Drive.values()) {
                    for (Turn turn : Turn.values()) {
                        for (int i = 0; i < circles; i++) {
                            double d = 1700 + 25 * random.nextGaussian();
                            trials.circle("" + drive + turn + i, turn, drive, d, d + 8 * random.nextGaussian());
                        }
                    }
                }
                marked += (int) trials.analysed().cells().stream()
                        .filter(CellEstimate::restsOnAssumption)
                        .count();
            }
            assertThat(marked).as("of 32 cells, %d circles each", circles).isEqualTo(circles == 1 ? 32 : 0);
        }
    }

    @Test
    void familyHoldsTheSurestVerdicts_ofThoseCounted() {
        IntStream.range(0, TRIALS)
                .mapToObj(seed -> random(seed, LengthUnit.MILLIMETRE).analysed())
                .forEach(a -> {
                    double least = a.findings().stream()
                            .filter(f -> f.verdict().decided() && f.holdsInFamily())
                            .mapToDouble(f -> f.verdict().probability())
                            .min()
                            .orElse(1);
                    assertThat(a.findings())
                            .allMatch(f -> f.holdsInFamily() || f.verdict().probability() <= least);
                });
    }

    @Test
    void twoMachines_doNotTouchEachOther() {
        Analysis alone = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1610)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1630)
                .analysed();
        Analysis both = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1610)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1630)
                .machine("Birch")
                .circle("3", Turn.LEFT, Drive.TWO_WHEEL, 2600, 2900)
                .analysed();
        assertThat(both.cells().get(0)).isEqualTo(alone.cells().get(0));
        assertThat(both.findings().get(0).subject()).isEqualTo(Map.of("machine", "Alder", "drive", "2WD"));
    }
}
