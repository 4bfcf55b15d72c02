package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.fairturn.trial.Assumption;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.LearntScatter;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.PastScatter;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

class ArchiveTest {
    /** A past trial of eight degrees of freedom either way, exactly at these standard deviations (mm). */
    private static PastTrial past(int number, Drive drive, String surface, String measurer, double sb, double sw) {
        return new PastTrial(
                "t" + number,
                LocalDate.of(2026, 3, 1).plusDays(number),
                "Alder 22",
                drive,
                surface,
                measurer,
                12,
                24,
                new PastScatter(8, 8e-6 * (sb * sb + sw * sw / 2), 2, 12, 12e-6 * sw * sw));
    }

    /** Ten calm trials on short turf, four rough ones on a pasture, one on gravel; Kit measured the even ones. */
    private static List<PastTrial> rows() {
        var random = new SplittableRandom(4);
        List<PastTrial> rows = new ArrayList<>();
        for (int i = 0; i < 15; i++) {
            String surface = i < 10 ? "Short turf" : i < 14 ? "pasture" : "gravel";
            double sb = (i < 10 ? 15 : 45) * random.nextDouble(0.8, 1.25);
            rows.add(past(i, Drive.TWO_WHEEL, surface, i % 2 == 0 ? "Kit" : "", sb, i % 2 == 0 ? 4 : 8));
        }
        return rows;
    }

    /** One circle in each turn, two readings each. */
    private static Trials small(Drive drive) {
        return Trials.inMillimetres()
                .machine("Alder 22")
                .circle("A1", Turn.LEFT, drive)
                .across(1604)
                .across(1610)
                .circle("A2", Turn.RIGHT, drive)
                .across(1650)
                .across(1644);
    }

    private static Trial on(String surface, Assumption assumption, Trial trial) {
        Conditions c = trial.conditions();
        return trial.withConditions(new Conditions(
                c.title(),
                c.date(),
                c.lengthUnit(),
                c.place(),
                c.operator(),
                surface,
                c.grass(),
                c.slope(),
                c.weather(),
                c.tapeClass(),
                c.edgeDefinition(),
                c.practicalMargin(),
                c.confidence(),
                c.assumedCircleRepeatability(),
                c.assumedReadingRepeatability(),
                assumption,
                c.mowingSpeed(),
                c.notes()));
    }

    private static Assumption taught(String surface, Trials trial) {
        return new Archive(rows())
                .taughtTo(on(surface, Assumption.USUAL, trial.trial()))
                .conditions()
                .assumption();
    }

    private static String mm(Length length) {
        return new Wording(LengthUnit.MILLIMETRE).amount(length.metres());
    }

    @Test
    void aTrial_learnsFromThoseOnItsSurfaceInItsDrive_whateverTheCapitals() {
        Assumption turf = taught("SHORT  turf ", small(Drive.TWO_WHEEL));
        LearntScatter circle = turf.circle().orElseThrow();
        assertThat(circle.trials()).isEqualTo(10);
        assertThat(circle.usualShare()).isCloseTo(1.0 / 11, within(1e-12));
        assertThat(circle.median().metres()).isBetween(0.013, 0.018);
        assertThat(turf.sentences().get(0))
                .startsWith(
                        "Assumed circle repeatability: learnt from 10 past trials on short turf in 2WD, typically 1")
                .endsWith(", in 95 % of trials below " + mm(circle.below95()) + ".");
        LearntScatter rough = taught("pasture", small(Drive.TWO_WHEEL)).circle().orElseThrow();
        assertThat(rough.trials()).isEqualTo(4);
        assertThat(rough.median().metres()).isBetween(0.035, 0.055);
    }

    @Test
    void readings_areLearntFromTheOneWhoMeasured() {
        Assumption named = new Archive(rows())
                .taughtTo(Trials.inMillimetres()
                        .measuredBy("Kit")
                        .machine("Alder 22")
                        .circle("A1", Turn.LEFT, Drive.TWO_WHEEL)
                        .across(1604)
                        .trial())
                .conditions()
                .assumption();
        assertThat(named.reading().orElseThrow().trials()).isEqualTo(8);
        assertThat(named.reading().orElseThrow().median().metres()).isBetween(0.0035, 0.0055);
        assertThat(named.sentences().get(1))
                .startsWith("Assumed reading repeatability: learnt from 8 past trials measured by Kit, typically 4 mm");
        Assumption nameless = taught("pasture", small(Drive.TWO_WHEEL));
        assertThat(nameless.sentences().get(1))
                .startsWith("Assumed reading repeatability: learnt from 4 past trials on pasture, typically ");
    }

    @Test
    void fewerThanThree_areNoGroup_andItIsSaid() {
        Assumption gravel = taught("gravel", small(Drive.FOUR_WHEEL));
        assertThat(gravel.circle().orElseThrow().trials()).isEqualTo(15);
        assertThat(gravel.sentences().get(0))
                .startsWith("Assumed circle repeatability: learnt from 15 past trials, typically ")
                .endsWith(" Of those on gravel in 4WD there is none, so all were taken together.");
        assertThat(new Archive(rows()).tooSmall()).containsExactly("on gravel (1)", "on gravel in 2WD (1)");
    }

    @Test
    void whatTrialCsvStates_comesFirst_andItIsSaid() {
        Trial stated = on(
                "Short turf",
                Assumption.stated(true, false),
                small(Drive.TWO_WHEEL).trial());
        Trial taught = new Archive(rows()).taughtTo(stated);
        assertThat(taught.conditions().assumption().circle()).isEmpty();
        assertThat(taught.conditions().assumption().reading()).isPresent();
        assertThat(taught.conditions().assumption().sentences().get(0))
                .isEqualTo(
                        "Assumed circle repeatability: 50 mm (2.0 in), as trial.csv states it; that comes before what the"
                                + " archive teaches.");
    }

    @Test
    void anEmptyArchive_changesNoNumber() {
        Trial trial = small(Drive.TWO_WHEEL).trial();
        Trial taught = new Archive(List.of()).taughtTo(trial);
        assertThat(taught.conditions().assumption().sentences())
                .containsExactly(
                        "Assumed circle repeatability: 50 mm (2.0 in), the usual one; the archive shows nothing of it.",
                        "Assumed reading repeatability: 20 mm (0.8 in), the usual one; the archive shows nothing of it.");
        assertThat(Analysis.of(taught).findings()).isEqualTo(Analysis.of(trial).findings());
        assertThat(Priors.circle(taught.conditions())).isEqualTo(Priors.circle(trial.conditions()));
    }

    @Test
    void aTrialInTheArchive_learnsFromTheOthersAlone_underWhateverName() {
        Trial trial = on(
                "Short turf",
                Assumption.USUAL,
                small(Drive.TWO_WHEEL)
                        .circle("A3", Turn.LEFT, Drive.TWO_WHEEL)
                        .across(1500)
                        .across(1508)
                        .trial());
        Assumption without = new Archive(rows()).taughtTo(trial).conditions().assumption();
        for (String name : List.of("trial", "deeper/trial", "copied elsewhere")) {
            List<PastTrial> with = new ArrayList<>(rows());
            with.addAll(PastTrial.of(name, trial));
            Assumption taught = new Archive(with).taughtTo(trial).conditions().assumption();
            assertThat(taught.circle()).isEqualTo(without.circle());
            assertThat(taught.reading()).isEqualTo(without.reading());
            assertThat(taught.sentences())
                    .last()
                    .isEqualTo("This trial is in the archive itself and was left out of it.");
        }
    }

    @Test
    void aCopyOfAFolder_countsOnce() {
        List<PastTrial> twice = new ArrayList<>(rows());
        PastTrial first = twice.get(0);
        twice.add(new PastTrial(
                "backup/t0",
                first.date(),
                first.machine(),
                first.drive(),
                first.surface(),
                first.measurer(),
                first.circles(),
                first.readings(),
                first.scatter()));
        Archive archive = new Archive(twice);
        assertThat(archive.copies()).isEqualTo(1);
        assertThat(archive.trials()).isEqualTo(15);
        assertThat(archive.groups()).isEqualTo(new Archive(rows()).groups());
    }

    @Test
    void namesAndOrderOfFolders_changeNoDigit() {
        List<PastTrial> other = new ArrayList<>();
        rows().forEach(r -> other.add(new PastTrial(
                "z" + (99 - other.size()),
                r.date(),
                r.machine(),
                r.drive(),
                r.surface(),
                r.measurer(),
                r.circles(),
                r.readings(),
                r.scatter())));
        Collections.shuffle(other, new Random(1));
        assertThat(new Archive(other).groups()).isEqualTo(new Archive(rows()).groups());
    }

    @Test
    void groups_areAllThenDrivesThenSurfacesThenBothThenMeasurers() {
        List<PastTrial> rows = rows();
        rows.addAll(IntStream.range(20, 23)
                .mapToObj(i -> past(i, Drive.FOUR_WHEEL, "pasture", "", 30, 5))
                .toList());
        assertThat(new Archive(rows).groups())
                .extracting(Archive.Taught::name)
                .containsExactly(
                        "",
                        "in 2WD",
                        "in 4WD",
                        "on pasture",
                        "on short turf",
                        "on pasture in 2WD",
                        "on pasture in 4WD",
                        "on short turf in 2WD",
                        "measured by Kit");
    }

    /** A machine's drives share a repeatability in its analysis, so their sums of squares add up where drives count together. */
    @Test
    void aTrialInBothDrives_countsOnce() {
        Trial both = small(Drive.TWO_WHEEL)
                .circle("A3", Turn.LEFT, Drive.FOUR_WHEEL)
                .across(1804)
                .circle("A4", Turn.LEFT, Drive.FOUR_WHEEL)
                .across(1830)
                .across(1830)
                .trial();
        List<PastTrial> shown = PastTrial.of("both", both);
        assertThat(shown).extracting(PastTrial::drive).containsExactly(Drive.TWO_WHEEL, Drive.FOUR_WHEEL);
        assertThat(shown).extracting(r -> r.scatter().circleDegrees()).containsExactly(0, 1);
        assertThat(shown).extracting(r -> r.scatter().readingDegrees()).containsExactly(2, 1);
        Archive.Taught all = new Archive(shown).groups().get(0);
        assertThat(all.trials()).isEqualTo(1);
        assertThat(all.circles()).isEqualTo(4);
        assertThat(all.circle().orElseThrow().trials()).isEqualTo(1);
    }

    /** Three circles with readings, of two, one and two tapes; the fourth was never measured. */
    @Test
    void aPastTrial_countsWhatCounted() {
        PastTrial past =
                PastTrial.of("folder", threeCircles("Kit", "Kit", "Kit")).get(0);
        assertThat(past.circles()).isEqualTo(3);
        assertThat(past.readings()).isEqualTo(5);
        assertThat(past.machine()).isEqualTo("Alder 22");
        // one cell of three circles, and two of them read twice
        assertThat(past.scatter().circleDegrees()).isEqualTo(2);
        assertThat(past.scatter().readingDegrees()).isEqualTo(2);
    }

    @Test
    void whoMeasuredAPastTrial_isKnownWhereItWasOneAlone() {
        assertThat(PastTrial.of("folder", threeCircles("Kit", "Kit", "Kit"))
                        .get(0)
                        .measurer())
                .isEqualTo("Kit");
        assertThat(PastTrial.of("folder", threeCircles("Kit", "Ann", "Kit"))
                        .get(0)
                        .measurer())
                .isEmpty();
        assertThat(PastTrial.of("folder", threeCircles("Kit", "", "Kit")).get(0).measurer())
                .isEmpty();
    }

    /** Sums of squares round differently in another order; a past trial is the same to its last bit however it was written. */
    @Test
    void circlesInAnotherOrder_makeTheSamePastTrial() {
        Trials trials = Trials.inMillimetres().machine("Alder 22");
        SplittableRandom random = new SplittableRandom(9);
        for (int i = 10; i < 20; i++) {
            double d = random.nextDouble(1500, 1700);
            trials.circle("A" + i, Turn.LEFT, Drive.TWO_WHEEL, d, d + random.nextDouble(-9, 9));
        }
        Trial trial = trials.trial();
        List<Circle> circles = new ArrayList<>(trial.circles());
        for (int i = 0; i < 6; i++) {
            Collections.shuffle(circles, new Random(i));
            assertThat(PastTrial.of("folder", trial.withCircles(circles))).isEqualTo(PastTrial.of("folder", trial));
        }
    }

    private static Trial threeCircles(String first, String second, String third) {
        return Trials.inMillimetres()
                .machine("Alder 22")
                .measuredBy(first)
                .circle("A1", Turn.LEFT, Drive.TWO_WHEEL, 1604.1, 1610.3)
                .measuredBy(second)
                .circle("A2", Turn.LEFT, Drive.TWO_WHEEL, 1587.7)
                .measuredBy(third)
                .circle("A3", Turn.LEFT, Drive.TWO_WHEEL, 1650.9, 1644.2)
                .circle("A4", Turn.LEFT, Drive.TWO_WHEEL)
                .trial();
    }

    @Test
    void withCalmTrialsBehindIt_aSmallTrialSaysMore_andStillRestsOnTheAssumption() {
        Trial trial = on("Short turf", Assumption.USUAL, small(Drive.TWO_WHEEL).trial());
        CellEstimate usual = Analysis.of(trial).cells().get(0);
        CellEstimate taught =
                Analysis.of(new Archive(rows()).taughtTo(trial)).cells().get(0);
        assertThat(taught.restsOnAssumption()).isTrue();
        assertThat(taught.diameter().halfWidth())
                .isLessThan(0.6 * usual.diameter().halfWidth());
        assertThat(taught.diameter().value()).isCloseTo(usual.diameter().value(), within(1e-9));
    }

    @Test
    void halvedOrDoubled_whatWasLearntFollows() {
        Conditions c = new Archive(rows())
                .taughtTo(on(
                        "Short turf", Assumption.USUAL, small(Drive.TWO_WHEEL).trial()))
                .conditions();
        LearntScatter learnt = c.assumption().circle().orElseThrow();
        LearntScatter doubled =
                c.withAssumedRepeatability(2).assumption().circle().orElseThrow();
        assertThat(doubled.median().metres()).isEqualTo(2 * learnt.median().metres());
        assertThat(doubled.logSpread()).isEqualTo(learnt.logSpread());
        assertThat(Priors.circle(c.withAssumedRepeatability(2)).scale())
                .isEqualTo(2 * Priors.circle(c).scale());
    }

    @Test
    void aPlan_takesTheDrivesItWillBeDrivenIn() {
        List<PastTrial> rows = rows();
        rows.addAll(IntStream.range(20, 23)
                .mapToObj(i -> past(i, Drive.FOUR_WHEEL, "pasture", "", 30, 5))
                .toList());
        Conditions c = small(Drive.TWO_WHEEL).trial().conditions();
        Archive archive = new Archive(rows);
        assertThat(trials(archive.taughtTo(c, Set.of(Drive.FOUR_WHEEL)))).contains(3);
        assertThat(trials(archive.taughtTo(c, Set.of(Drive.TWO_WHEEL)))).contains(15);
        assertThat(trials(archive.taughtTo(c, Set.of(Drive.values())))).contains(18);
    }

    private static Optional<Integer> trials(Conditions c) {
        return c.assumption().circle().map(LearntScatter::trials);
    }

    private static PastTrial row(String folder, int day, String surface, PastScatter scatter) {
        return new PastTrial(
                folder, LocalDate.of(2026, 3, day), "Alder 22", Drive.TWO_WHEEL, surface, "", 4, 8, scatter);
    }

    /** Four circles' degrees of freedom at 15 mm, and eight of readings at 5 mm. */
    private static PastScatter both(double factor) {
        return new PastScatter(4, factor * 4 * 225e-6, 2, 8, factor * 8 * 25e-6);
    }

    private static PastScatter readingsAlone(double factor) {
        return new PastScatter(0, 0, 2, 8, factor * 8 * 25e-6);
    }

    private static PastScatter circlesAlone() {
        return new PastScatter(4, 4 * 225e-6, 2, 0, 0);
    }

    /** On a pasture three trials, of which two drove circles again; on turf two, which read each circle once. */
    private static List<PastTrial> partlyShown() {
        return List.of(
                row("a", 1, "pasture", both(1)),
                row("b", 2, "pasture", both(1.2)),
                row("c", 3, "pasture", readingsAlone(1)),
                row("d", 4, "turf", circlesAlone()),
                row("e", 5, "turf", circlesAlone()));
    }

    private static Assumption onSurface(List<PastTrial> rows, String surface) {
        return new Archive(rows)
                .taughtTo(on(surface, Assumption.USUAL, small(Drive.TWO_WHEEL).trial()))
                .conditions()
                .assumption();
    }

    @Test
    void aTrialThatDroveNoCircleAgain_showsReadingsAlone_andTheOtherWayRound() {
        Archive archive = new Archive(partlyShown());
        Archive.Taught all = archive.groups().get(0);
        assertThat(all.trials()).isEqualTo(5);
        assertThat(all.circle().orElseThrow().trials()).isEqualTo(4);
        assertThat(all.reading().orElseThrow().trials()).isEqualTo(3);
        Archive.Taught pasture = archive.groups().stream()
                .filter(g -> g.name().equals("on pasture"))
                .findFirst()
                .orElseThrow();
        assertThat(pasture.trials()).isEqualTo(3);
        assertThat(pasture.circle()).isEmpty();
        assertThat(pasture.reading().orElseThrow().trials()).isEqualTo(3);
        assertThat(archive.tooSmall()).containsExactly("on turf (2)", "on turf in 2WD (2)");
    }

    @Test
    void threeTrialsThatShowCircles_butTwoReadings_teachCirclesAlone() {
        List<PastTrial> rows = List.of(
                row("a", 1, "turf", circlesAlone()), row("b", 2, "turf", both(1)), row("c", 3, "turf", both(1.2)));
        Archive.Taught turf = new Archive(rows)
                .groups().stream()
                        .filter(g -> g.name().equals("on turf"))
                        .findFirst()
                        .orElseThrow();
        assertThat(turf.circle().orElseThrow().trials()).isEqualTo(3);
        assertThat(turf.reading()).isEmpty();
    }

    /** All trials together teach however few there are. */
    @Test
    void oneTrial_teachesWhatItShows() {
        Archive.Taught one =
                new Archive(List.of(row("a", 1, "", readingsAlone(1)))).groups().get(0);
        assertThat(one.circle()).isEmpty();
        assertThat(one.reading().orElseThrow().trials()).isEqualTo(1);
        Archive.Taught other =
                new Archive(List.of(row("a", 1, "", circlesAlone()))).groups().get(0);
        assertThat(other.circle().orElseThrow().trials()).isEqualTo(1);
        assertThat(other.reading()).isEmpty();
    }

    @Test
    void whatTheGroupDoesNotShow_isLearntFromAll_andItIsSaidHowManyThereWere() {
        Assumption pasture = onSurface(partlyShown(), "pasture");
        assertThat(pasture.sentences().get(0))
                .startsWith("Assumed circle repeatability: learnt from 4 past trials in 2WD, typically ");
        assertThat(pasture.sentences().get(1))
                .startsWith("Assumed reading repeatability: learnt from 3 past trials on pasture, typically ");
        List<PastTrial> two = partlyShown().subList(0, 3);
        assertThat(onSurface(two, "pasture").sentences().get(0))
                .startsWith("Assumed circle repeatability: learnt from 2 past trials, typically ")
                .endsWith(" Of those on pasture in 2WD there are only 2, so all were taken together.");
        assertThat(onSurface(two.subList(1, 2), "pasture").sentences().get(0))
                .startsWith("Assumed circle repeatability: learnt from 1 past trial, typically ")
                .endsWith(" Of those on pasture in 2WD there is only 1, so all were taken together.");
    }

    /** Two trials of a machine on one day are two, unless their figures are the same to nine digits. */
    @Test
    void twoTrialsOfOneDay_areToldApartByTheirFigures() {
        PastScatter first = both(1);
        for (PastScatter other : List.of(
                both(1.1),
                both(1 + 1e-6),
                new PastScatter(4, first.circleSquares(), 2, 9, first.readingSquares()),
                new PastScatter(4, first.circleSquares(), 2, 8, 2 * first.readingSquares()),
                new PastScatter(4, 2 * first.circleSquares(), 2, 8, first.readingSquares()))) {
            Archive archive = new Archive(List.of(row("a", 1, "", first), row("b", 1, "", other)));
            assertThat(archive.copies()).isZero();
            assertThat(archive.trials()).isEqualTo(2);
        }
        for (PastScatter copy : List.of(first, both(1 + 1e-12))) {
            assertThat(new Archive(List.of(row("a", 1, "", first), row("b", 1, "", copy))).copies())
                    .isEqualTo(1);
        }
        // readings that agree to the last digit are figures too; no figures at all are nobody's copy
        PastScatter agreeing = new PastScatter(4, 0, 2, 8, 0);
        assertThat(new Archive(List.of(row("a", 1, "", agreeing), row("b", 1, "", agreeing))).copies())
                .isEqualTo(1);
        PastScatter nothing = new PastScatter(0, 0, 2, 0, 0);
        assertThat(new Archive(List.of(row("a", 1, "", nothing), row("b", 1, "", nothing))).copies())
                .isZero();
    }

    @Test
    void rows_standByDate_eachOnce() {
        PastTrial early = row("z", 1, "", both(1));
        PastTrial late = row("a", 9, "", both(1.3));
        assertThat(new Archive(List.of(late, early, late)).rows()).containsExactly(early, late);
    }

    /** Its folder has been added to since: the name, the day and the machine are enough. */
    @Test
    void aTrialWhoseFiguresHaveChangedSince_isStillItself_butNotATrialOfAnotherMachineOrName() {
        Trial trial = on("", Assumption.USUAL, small(Drive.TWO_WHEEL).trial());
        LocalDate day = trial.conditions().date();
        String self = "This trial is in the archive itself and was left out of it.";
        List<PastTrial> rows = new ArrayList<>(rows());
        rows.add(new PastTrial(
                "deeper/trial",
                day,
                "Alder 22",
                Drive.TWO_WHEEL,
                "",
                "",
                9,
                18,
                new PastScatter(6, 0.002, 2, 9, 3e-4)));
        assertThat(new Archive(rows).taughtTo(trial).conditions().assumption().sentences())
                .last()
                .isEqualTo(self);
        for (PastTrial other : List.of(
                new PastTrial(
                        "trial",
                        day,
                        "Basalt 25",
                        Drive.TWO_WHEEL,
                        "",
                        "",
                        9,
                        18,
                        new PastScatter(6, 0.002, 2, 9, 3e-4)),
                new PastTrial(
                        "my trial",
                        day,
                        "Alder 22",
                        Drive.TWO_WHEEL,
                        "",
                        "",
                        9,
                        18,
                        new PastScatter(6, 0.002, 2, 9, 3e-4)),
                new PastTrial(
                        "trial",
                        day.plusDays(1),
                        "Alder 22",
                        Drive.TWO_WHEEL,
                        "",
                        "",
                        9,
                        18,
                        new PastScatter(6, 0.002, 2, 9, 3e-4)))) {
            rows.set(rows.size() - 1, other);
            assertThat(new Archive(rows)
                            .taughtTo(trial)
                            .conditions()
                            .assumption()
                            .sentences())
                    .doesNotContain(self);
        }
    }
}
