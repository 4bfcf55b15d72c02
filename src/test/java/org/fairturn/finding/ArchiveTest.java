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
}
