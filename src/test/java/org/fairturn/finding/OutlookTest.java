package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.Test;

/** Whether the promise of further circles is kept. */
class OutlookTest {
    private static final int PROMISES = 60;

    /**
     * Trials of one or two circles a cell, scatter drawn from the priors themselves, whose outlook names further circles: these
     * are driven, and the whole is analysed anew. Over many trials the share that then has a verdict has to be near the mean
     * of the promised chances.
     *
     * <p>Taking the scatter as known by then makes the promise hopeful: 300 promises, run once with this seed, promised 0.804 and
     * kept 0.753. So the lower bound leaves 5 points for that, and both leave two standard deviations of chance: 60 promises of
     * 80 % scatter by 5.2 points. The seed is fixed, so that the figure printed is the same on every run.
     */
    @Test
    void promisedChance_isAboutKept() {
        var random = new Random(20260521);
        double promised = 0;
        int kept = 0;
        int promises = 0;
        while (promises < PROMISES) {
            double sigmaB = 50 * Math.abs(studentOfFour(random));
            double sigmaW = 20 * Math.abs(studentOfFour(random));
            double two = 1800;
            double four = 1800 + 600 * (random.nextDouble() - 0.5);
            Trials trials = Trials.inMillimetres().machine("Alder");
            int circles = 1 + random.nextInt(2);
            for (int i = 0; i < circles; i++) {
                drive(trials, "two" + i, Drive.TWO_WHEEL, two, sigmaB, sigmaW, random);
                drive(trials, "four" + i, Drive.FOUR_WHEEL, four, sigmaB, sigmaW, random);
            }
            Verdict today = verdict(trials);
            if (!(today instanceof Verdict.CannotTell open)
                    || open.outlook().furtherCircles().isEmpty()) {
                continue;
            }
            promises++;
            promised += open.outlook().chance();
            for (Map.Entry<Cell, Integer> more : open.outlook().furtherCircles().entrySet()) {
                for (int i = 0; i < more.getValue(); i++) {
                    Drive drive = more.getKey().drive();
                    drive(
                            trials,
                            "further" + drive + i,
                            drive,
                            drive == Drive.TWO_WHEEL ? two : four,
                            sigmaB,
                            sigmaW,
                            random);
                }
            }
            if (verdict(trials).decided()) {
                kept++;
            }
        }
        double share = (double) kept / PROMISES;
        System.out.printf(Locale.ROOT, "outlook: promised %.3f, kept %.3f%n", promised / PROMISES, share);
        assertThat(share).isBetween(promised / PROMISES - 0.05 - 0.104, promised / PROMISES + 0.104);
    }

    private static void drive(
            Trials trials, String id, Drive drive, double diameter, double sigmaB, double sigmaW, Random random) {
        double disc = Math.max(300, diameter + sigmaB * random.nextGaussian());
        trials.circle(id, Turn.LEFT, drive, read(disc, sigmaW, random), read(disc, sigmaW, random));
    }

    private static double read(double disc, double sigmaW, Random random) {
        return Math.max(200, disc + sigmaW * random.nextGaussian());
    }

    private static Verdict verdict(Trials trials) {
        return trials.analysed().findings().stream()
                .filter(f -> f.question() == Question.DRIVE)
                .findFirst()
                .orElseThrow()
                .verdict();
    }

    private static double studentOfFour(Random random) {
        double chiSquared = 0;
        for (int i = 0; i < 4; i++) {
            double z = random.nextGaussian();
            chiSquared += z * z;
        }
        return random.nextGaussian() / Math.sqrt(chiSquared / 4);
    }

    /** The cell with one circle, not the one with four, is where most of the next are driven. */
    @Test
    void furtherCircles_areDrivenWhereTheyHelpMost() {
        int promises = 0;
        for (double four = 1700; four <= 1900; four += 5) {
            Trials trials = Trials.inMillimetres().machine("Alder");
            for (int i = 0; i < 4; i++) {
                trials.circle("two" + i, Turn.LEFT, Drive.TWO_WHEEL, 1700 + 30 * (i % 2));
            }
            trials.circle("four", Turn.LEFT, Drive.FOUR_WHEEL, four);
            if (verdict(trials) instanceof Verdict.CannotTell open
                    && !open.outlook().furtherCircles().isEmpty()) {
                promises++;
                Map<Drive, Integer> byDrive = new EnumMap<>(Drive.class);
                open.outlook().furtherCircles().forEach((cell, n) -> byDrive.put(cell.drive(), n));
                assertThat(byDrive.get(Drive.FOUR_WHEEL)).isGreaterThan(byDrive.getOrDefault(Drive.TWO_WHEEL, 0));
                assertThat(open.outlook().chance()).isBetween(0.8, 1.0);
                assertThat(open.outlook().total()).isBetween(1, Outlook.MOST_CIRCLES);
            }
        }
        assertThat(promises).isPositive();
    }

    /** Deck dimensions known to 5 mm cannot be outvoted by circles where the margin is 10 mm. */
    @Test
    void whereTheGeometryIsTheLimit_itSaysSo() {
        Trials trials = Trials.inMillimetres().margin(10).machine("Alder").deckOfThree(0);
        for (int i = 0; i < 6; i++) {
            trials.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL, 1700 + i)
                    .circle("r" + i, Turn.RIGHT, Drive.TWO_WHEEL, 1700 + i);
        }
        Verdict verdict = trials.analysed().findings().get(0).verdict();
        assertThat(verdict).isInstanceOf(Verdict.CannotTell.class);
        Outlook outlook = ((Verdict.CannotTell) verdict).outlook();
        assertThat(outlook.furtherCircles()).isEmpty();
        assertThat(outlook.obstacle()).isEqualTo(Outlook.Obstacle.GEOMETRY);
        assertThat(outlook.chance()).isCloseTo(0, within(0.01));
    }

    /** A cost that sits on the margin stays open for that reason, and one that is hardly known for another. */
    @Test
    void whereTheAnswerLiesNearTheMargin_orIsHardlyKnown_itSaysWhich() {
        Trials near = Trials.inMillimetres().machine("Alder");
        for (int i = 0; i < 8; i++) {
            near.circle("two" + i, Turn.LEFT, Drive.TWO_WHEEL, 1700 + 40 * (i % 2))
                    .circle("four" + i, Turn.LEFT, Drive.FOUR_WHEEL, 1750 + 40 * (i % 2));
        }
        assertThat(((Verdict.CannotTell) verdict(near)).outlook().obstacle()).isEqualTo(Outlook.Obstacle.NEAR_MARGIN);
        Trials vague = Trials.inMillimetres()
                .machine("Alder")
                .circle("two", Turn.LEFT, Drive.TWO_WHEEL, 1700)
                .circle("four", Turn.LEFT, Drive.FOUR_WHEEL, 1701);
        Outlook outlook = ((Verdict.CannotTell) verdict(vague)).outlook();
        assertThat(outlook.obstacle()).isEqualTo(Outlook.Obstacle.UNCERTAIN_TODAY);
        assertThat(outlook.furtherCircles()).isEmpty();
    }

    /**
     * A rise of a fifth of the diameter makes a chord and rise vary 13 times as much as a tape laid across (4 + 9, the squares
     * of c/(2h) and 1 − c²/(4h²)), so that it is worth what a tape with √13 times the repeatability is. The next circles used
     * to be taken as measured across, whatever those driven were measured by.
     */
    @Test
    void furtherCircles_areMeasuredAsThoseDriven() {
        int promises = 0;
        for (double four = 1500; four <= 1800; four += 2) {
            Trials across = Trials.inMillimetres()
                    .readingRepeatability(20 * Math.sqrt(13))
                    .machine("Alder");
            Trials byRise = Trials.inMillimetres().machine("Alder");
            for (int i = 0; i < 2; i++) {
                measure(across, byRise, "two" + i, Drive.TWO_WHEEL, 1500 + 20 * i);
                measure(across, byRise, "four" + i, Drive.FOUR_WHEEL, four + 20 * i);
            }
            if (verdict(across) instanceof Verdict.CannotTell expected
                    && verdict(byRise) instanceof Verdict.CannotTell found) {
                // the parts shared by all readings differ by tenths of a millimetre, which can tip the last circle
                int more = found.outlook().total() - expected.outlook().total();
                assertThat(more).as("4WD circles of %s mm", four).isBetween(-1, 1);
                if (more == 0) {
                    assertThat(found.outlook().chance())
                            .isCloseTo(expected.outlook().chance(), within(0.01));
                }
                promises += more == 0 && found.outlook().total() > 0 ? 1 : 0;
            }
        }
        assertThat(promises).isGreaterThan(5);
    }

    private static void measure(Trials across, Trials byRise, String id, Drive drive, double d) {
        across.circle(id, Turn.LEFT, drive, d);
        byRise.circle(id, Turn.LEFT, drive).chordAndRise(0.8 * d, 0.2 * d);
    }
}
