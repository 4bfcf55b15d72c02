package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.apache.commons.csv.CSVRecord;
import org.fairturn.ReferenceData;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.HalfT;
import org.fairturn.uncertainty.Interlaboratory;
import org.fairturn.uncertainty.ScatterPosterior;
import org.junit.jupiter.api.Test;

/** Trials on several days against each other. */
class DaysTest {
    private static final double MM = 0.001;

    static Days.Folder folder(String name, int day, String title, Trial trial) {
        Conditions c = trial.conditions();
        return new Days.Folder(
                "trials/" + name,
                new Trial(
                        name,
                        new Conditions(
                                title,
                                LocalDate.of(2026, 5, day),
                                c.lengthUnit(),
                                c.place(),
                                c.operator(),
                                c.surface(),
                                c.grass(),
                                c.slope(),
                                c.weather(),
                                c.tapeClass(),
                                c.edgeDefinition(),
                                c.practicalMargin(),
                                c.confidence(),
                                c.assumedCircleRepeatability(),
                                c.assumedReadingRepeatability(),
                                c.mowingSpeed(),
                                c.notes()),
                        trial.machines(),
                        trial.circles(),
                        trial.claims()));
    }

    /** Three circles to each side, which scatter by a few millimetres. */
    private static Trials day(double left, double right) {
        return Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, left - 6, left - 2)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, left + 9, left + 4)
                .circle("3", Turn.LEFT, Drive.TWO_WHEEL, left - 2)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, right + 7, right + 3)
                .circle("5", Turn.RIGHT, Drive.TWO_WHEEL, right - 8, right - 3)
                .circle("6", Turn.RIGHT, Drive.TWO_WHEEL, right + 1);
    }

    private static List<Days.Folder> threeDays() {
        return List.of(
                folder("mon", 11, "dry", day(1600, 1750).trial()),
                folder("thu", 14, "wet", day(1690, 1840).trial()),
                folder("sat", 16, "dry again", day(1604, 1754).trial()));
    }

    private static String metric(double metres) {
        return text(1000 * metres, 0) + " mm (" + text(metres / 0.0254, 1) + " in)";
    }

    private static String text(double value, int decimals) {
        return String.format(Locale.ROOT, "%." + decimals + "f", value).replace('-', '−');
    }

    private static String between(double low, double high) {
        return "between " + text(1000 * low, 0) + " and " + text(1000 * high, 0) + " mm (" + text(low / 0.0254, 1)
                + " and " + text(high / 0.0254, 1) + " in)";
    }

    /** The glucose data laid out as days: laboratories are days, materials turns and drives, mg/dl metres. */
    @Test
    void precisionAndPointers_matchAstmE691Glucose() {
        // ASTM E691, glucose in serum: data read in source, precision from memory and recomputed
        Map<String, Trials> days = new LinkedHashMap<>();
        int circle = 0;
        for (CSVRecord row : ReferenceData.rows("astm-e691-glucose.csv")) {
            String material = row.get("material");
            if (!List.of("A", "B").contains(material)) {
                continue;
            }
            days.computeIfAbsent(
                            row.get("laboratory"), k -> Trials.inMillimetres().machine("Alder"))
                    .circle(
                            "" + ++circle,
                            material.equals("A") ? Turn.LEFT : Turn.RIGHT,
                            Drive.TWO_WHEEL,
                            1000 * Double.parseDouble(row.get("glucose_mg_dl")));
        }
        List<Days.Folder> folders = new ArrayList<>();
        days.forEach((lab, trials) -> folders.add(folder("lab" + lab, Integer.parseInt(lab), "lab", trials.trial())));
        Days.OverDays alder = Days.of(folders).machines().get(0);
        assertThat(alder.days()).hasSize(8);
        double fourDecimals = 6e-5; // half of the last digit, and the correction for the missed centre, under 1e-5
        Interlaboratory a = alder.levels().get(0).measured();
        Interlaboratory b = alder.levels().get(1).measured();
        assertThat(a.precision().repeatability().orElseThrow()).isCloseTo(1.0632, within(fourDecimals));
        assertThat(a.precision().reproducibility().orElseThrow()).isCloseTo(1.0632, within(fourDecimals));
        assertThat(b.precision().repeatability().orElseThrow()).isCloseTo(1.4949, within(fourDecimals));
        assertThat(b.precision().reproducibility().orElseThrow()).isCloseTo(1.5796, within(fourDecimals));
        for (CSVRecord row : ReferenceData.rows("astm-e691-glucose-hk-recomputed.csv")) {
            if (List.of("A", "B").contains(row.get("material"))) {
                Interlaboratory level = row.get("material").equals("A") ? a : b;
                int i = Integer.parseInt(row.get("laboratory")) - 1;
                assertThat(level.groups().get(i).label()).isEqualTo("2026-05-0" + (i + 1) + ", lab");
                assertThat(level.h(i).orElseThrow()).isCloseTo(Double.parseDouble(row.get("h")), within(1e-4));
                assertThat(level.k(i).orElseThrow()).isCloseTo(Double.parseDouble(row.get("k")), within(1e-4));
            }
        }
        // both together: s_r² is the mean of the two, all having the same number of replicates
        assertThat(alder.precision().repeatability().orElseThrow())
                .isCloseTo(Math.sqrt((1.0632 * 1.0632 + 1.4949 * 1.4949) / 2), within(1e-4));
        assertThat(alder.known().orElseThrow().repeatabilityDegrees()).isEqualTo(32);
    }

    @Test
    void threeDays_eachIsHeldAgainstTheOthers() {
        Days days = Days.of(threeDays());
        assertThat(days.findings())
                .extracting(f -> f.subject().get("day"))
                .containsExactly("2026-05-14, wet", "2026-05-16, dry again", "2026-05-11, dry");
        Finding wet = days.findings().get(0);
        Estimate d = wet.estimate().orElseThrow();
        assertThat(wet.question()).isEqualTo(Question.TESTERS);
        assertThat(wet.subject())
                .isEqualTo(Map.of(
                        "machine",
                        "Alder",
                        "day",
                        "2026-05-14, wet",
                        "days",
                        "2026-05-11, dry; 2026-05-14, wet; 2026-05-16, dry again"));
        // 90 less the mean of 0 and 4
        assertThat(d.value()).isCloseTo(88 * MM, within(0.5 * MM));
        assertThat(wet.sentence())
                .isEqualTo("Alder: on 2026-05-14, wet its circles were " + metric(d.value())
                        + " larger than the mean of the other days (mean over 2 turns and drives), "
                        + between(d.low(), d.high())
                        + "; that is beyond the practical margin of 50 mm (2.0 in) with a probability of over 99.9 %: it"
                        + " matters on which day it was measured.");
        assertThat(wet.next()).endsWith("Compare machines only on the same day.");
        assertThat(days.findings().get(2).sentence())
                .contains("Alder: on 2026-05-11, dry its circles were ", "smaller");
    }

    @Test
    void twoDaysAlike_areWithinTheMargin() {
        Days days = Days.of(List.of(threeDays().get(0), threeDays().get(2)));
        assertThat(days.findings()).hasSize(1);
        Finding finding = days.findings().get(0);
        Estimate d = finding.estimate().orElseThrow();
        assertThat(finding.sentence())
                .isEqualTo("Alder: on 2026-05-16, dry again its circles were " + metric(d.value())
                        + " larger than on 2026-05-11, dry (mean over 2 turns and drives), "
                        + between(d.low(), d.high())
                        + "; that is within the practical margin of 50 mm (2.0 in) with a probability of over 99.9 %: it"
                        + " does not matter on which of the two days it was measured.");
        assertThat(finding.next()).isEqualTo("Any of these days may be quoted; name it with the figure.");
        Days.OverDays alder = days.machines().get(0);
        assertThat(alder.restsOnAssumption()).isTrue();
        assertThat(alder.summary())
                .endsWith(
                        "however well it was measured on that day. This rests on the assumed circle repeatability, because"
                                + " so few days show little of how days scatter.");
    }

    /** Days 1 mm apart: without one circle the other day's circles are the larger, and the verdict is the same. */
    @Test
    void twoDaysAlike_standAlthoughTheirOrderTurns() {
        List<Days.Folder> folders = List.of(
                folder("mon", 11, "dry", day(1600, 1750).trial()),
                folder("sat", 16, "dry again", day(1601, 1751).trial()));
        Finding finding = Days.of(folders).findings().get(0);
        assertThat(finding.verdict().word()).isEqualTo("within");
        assertThat(finding.subject())
                .containsExactly(
                        Map.entry("machine", "Alder"),
                        Map.entry("day", "2026-05-16, dry again"),
                        Map.entry("otherDay", "2026-05-11, dry"),
                        Map.entry("days", "2026-05-11, dry; 2026-05-16, dry again"));
        List<Days.Folder> turned = List.of(
                folder("mon", 11, "dry", day(1602, 1752).trial()),
                folder("sat", 16, "dry again", day(1601, 1751).trial()));
        Finding other = Days.of(turned).findings().get(0);
        assertThat(other.subject()).containsEntry("day", "2026-05-11, dry");
        assertThat(finding.answersTheSameAs(other)).isTrue();
        assertThat(finding.robustness().orElseThrow().fallsWithout()).isEmpty();
        assertThat(finding.robustness().orElseThrow().sentence()).startsWith("Stands whatever single circle");
    }

    /** Monday and Thursday share the left turn, Thursday and Saturday the right: Monday was never held against Saturday. */
    @Test
    void aDay_isHeldAgainstThoseAloneItSharesATurnAndDriveWith() {
        Days days = Days.of(List.of(
                folder("mon", 11, "left", oneTurn(Turn.LEFT, 1600).trial()),
                folder("thu", 14, "both", day(1690, 1840).trial()),
                folder("sat", 16, "right", oneTurn(Turn.RIGHT, 1750).trial())));
        assertThat(days.findings()).hasSize(3);
        Finding both = days.findings().get(0);
        assertThat(both.subject()).containsEntry("day", "2026-05-14, both").doesNotContainKey("otherDay");
        assertThat(both.sentence()).contains(" larger than the mean of the other days (mean over 2 turns and drives)");
        for (Finding single : days.findings().subList(1, 3)) {
            String day = single.subject().get("day");
            assertThat(single.subject()).containsEntry("otherDay", "2026-05-14, both");
            assertThat(single.subject().get("days"))
                    .contains(day, "2026-05-14, both")
                    .doesNotContain("; 2026-05-14, both; ");
            assertThat(single.sentence()).contains(" smaller than on 2026-05-14, both (");
        }
    }

    /** Four days in two pairs that share nothing: two answers, not each of them twice. */
    @Test
    void twoPairsOfDays_areTwoAnswers() {
        Days days = Days.of(List.of(
                folder("a", 11, "left", oneTurn(Turn.LEFT, 1600).trial()),
                folder("b", 12, "right", oneTurn(Turn.RIGHT, 1750).trial()),
                folder("c", 13, "left", oneTurn(Turn.LEFT, 1690).trial()),
                folder("d", 14, "right", oneTurn(Turn.RIGHT, 1751).trial())));
        assertThat(days.findings())
                .extracting(f -> f.subject().get("days"))
                .containsExactly("2026-05-11, left; 2026-05-13, left", "2026-05-12, right; 2026-05-14, right");
        assertThat(days.findings().get(0).sentence())
                .contains("on 2026-05-13, left its circles were ", " than on 2026-05-11, left (");
        assertThat(days.findings().get(1).sentence())
                .endsWith(": it does not matter on which of the two days it was measured.");
    }

    /** Of four days one shares turns with two others only. */
    @Test
    void theMeanOfSomeDays_isNotCalledThatOfAllOthers() {
        Days days = Days.of(List.of(
                folder("a", 11, "left", oneTurn(Turn.LEFT, 1600).trial()),
                folder("b", 12, "left", oneTurn(Turn.LEFT, 1600).trial()),
                folder("c", 13, "both", day(1600, 1750).trial()),
                folder("d", 14, "right", oneTurn(Turn.RIGHT, 1750).trial())));
        Finding a = days.findings().stream()
                .filter(f -> f.subject().get("day").equals("2026-05-11, left"))
                .findFirst()
                .orElseThrow();
        assertThat(a.sentence())
                .contains(" than the mean of 2026-05-12, left and 2026-05-13, both (left turn in 2WD), ")
                .endsWith(": this day agrees with those.");
        assertThat(a.subject()).containsEntry("days", "2026-05-11, left; 2026-05-12, left; 2026-05-13, both");
    }

    private static Trials oneTurn(Turn turn, double across) {
        return Trials.inMillimetres()
                .machine("Alder")
                .circle("1", turn, Drive.TWO_WHEEL, across - 6, across - 2)
                .circle("2", turn, Drive.TWO_WHEEL, across + 9, across + 4)
                .circle("3", turn, Drive.TWO_WHEEL, across - 2);
    }

    @Test
    void cannotTell_asksForAFurtherDay() {
        Days days = Days.of(List.of(
                folder("a", 11, "dry", day(1600, 1750).trial()),
                folder("b", 14, "wet", day(1652, 1802).trial())));
        Finding finding = days.findings().get(0);
        assertThat(finding.sentence()).endsWith(": these days cannot tell yet.");
        assertThat(finding.next())
                .isEqualTo(
                        "Measure the machine on a further day, with three circles in each turn and drive, and compare again.");
    }

    @Test
    void summary_saysWhatADayIsWorth() {
        Days.OverDays alder = Days.of(threeDays()).machines().get(0);
        Interlaboratory.Known known = alder.known().orElseThrow();
        Estimate r = known.repeatability();
        Estimate both = known.reproducibility();
        assertThat(alder.summary())
                .startsWith("Alder, 3 days, 2 turns and drives: driven again on the same day a circle repeats to "
                        + metric(r.value()) + ", " + between(r.low(), r.high())
                        + " (repeatability s_r), on another day to " + metric(both.value()) + ", "
                        + between(both.low(), both.high())
                        + " (reproducibility s_R), both standard deviations. A single day's figure for one turn and drive can"
                        + " be off by " + metric(alder.singleDay())
                        + " either way, with a probability of 95 %, however well it was measured on that day.");
        // the days' means scatter by 51 mm about theirs; with the two degrees of freedom of three days that is far from
        // sure
        assertThat(alder.singleDay()).isBetween(1.96 * 51 * MM, 4.4 * 51 * MM);
    }

    @Test
    void orderOfTheFolders_changesNothing() {
        List<Days.Folder> folders = new ArrayList<>(threeDays());
        Days expected = Days.of(folders);
        Collections.reverse(folders);
        assertThat(Days.of(folders)).isEqualTo(expected);
    }

    @Test
    void namesOfTheFolders_changeNothing() {
        List<Finding> expected = Days.of(threeDays()).findings();
        List<Days.Folder> renamed = threeDays().stream()
                .map(f -> folder(
                        "z" + f.trial().folder(),
                        f.trial().conditions().date().getDayOfMonth(),
                        f.trial().conditions().title(),
                        f.trial()))
                .toList();
        assertThat(Days.of(renamed).findings()).isEqualTo(expected);
    }

    @Test
    void twoFoldersOfOneDay_areToldApart() {
        Trial trial = day(1600, 1750).trial();
        assertThat(Days.of(List.of(folder("morning", 11, "dry", trial), folder("evening", 11, "dry", trial)))
                        .days())
                .extracting(Days.Day::label)
                .containsExactly("2026-05-11, dry (evening)", "2026-05-11, dry (morning)");
        assertThat(Days.of(List.of(
                                new Days.Folder(
                                        "a/x", folder("x", 11, " ", trial).trial()),
                                new Days.Folder(
                                        "b/x", folder("x", 11, " ", trial).trial())))
                        .days())
                .extracting(Days.Day::label)
                .containsExactly("2026-05-11, x (a/x)", "2026-05-11, x (b/x)");
    }

    @Test
    void whatTheDaysDoNotShare_isLeftOut_andSaid() {
        Trials more = day(1600, 1750).circle("7", Turn.LEFT, Drive.FOUR_WHEEL, 2000);
        Days days = Days.of(List.of(
                folder("a", 11, "dry", more.margin(40).confidence(0.9).trial()),
                folder("b", 14, "wet", day(1600, 1750).deckOfThree(30).trial())));
        assertThat(days.machines().get(0).levels()).hasSize(2);
        assertThat(days.margin()).isEqualTo(0.04);
        assertThat(days.confidence()).isEqualTo(0.95);
        assertThat(days.warnings())
                .extracting(Warning::code)
                .containsExactly("marginsDiffer", "confidencesDiffer", "drivenOnOneDay", "machineChanged");
        assertThat(days.warnings().get(2).message())
                .isEqualTo("Driven on one of the days only (2026-05-11, dry); it is left out.");
    }

    @Test
    void daysWithNoTurnAndDriveInCommon_cannotBeCompared() {
        Days days = Days.of(List.of(
                folder(
                        "a",
                        11,
                        "dry",
                        Trials.inMillimetres()
                                .machine("Alder")
                                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                                .trial()),
                folder(
                        "b",
                        14,
                        "wet",
                        Trials.inMillimetres()
                                .machine("Alder")
                                .circle("1", Turn.RIGHT, Drive.TWO_WHEEL, 1600)
                                .trial())));
        assertThat(days.machines()).isEmpty();
        assertThat(days.findings().get(0).sentence())
                .isEqualTo(
                        "Alder: the days cannot be compared yet. Missing: a turn and drive that was driven and measured on two"
                                + " of the days.");
    }

    /** A day on which one circle was driven off full lock stands out by its scatter. */
    @Test
    void aDayOfStrayCircles_isNamed() {
        List<Days.Folder> folders = new ArrayList<>(threeDays());
        folders.add(folder(
                "sun",
                17,
                "hasty",
                day(1600, 1750).circle("7", Turn.LEFT, Drive.TWO_WHEEL, 1790).trial()));
        assertThat(Days.of(folders).machines().get(0).summary())
                .contains(
                        " On 2026-05-17, hasty circles scatter conspicuously more than on the other days, most of all left"
                                + " turn in 2WD (Mandel's k): look there for a circle driven off full lock or a misread tape.");
    }

    /** The invented days of testdata/days, whose README states the truths. */
    @Test
    void demoDays_findTheWetDay() {
        List<Days.Folder> folders = new ArrayList<>();
        for (String name : List.of("monday", "thursday", "saturday")) {
            Path path = Path.of("testdata", "days", name);
            folders.add(new Days.Folder(
                    path.toString(), TrialFolder.read(path).fold(TrialRead.Complete::trial, faulty -> {
                        throw new AssertionError(faulty.problems());
                    })));
        }
        Days days = Days.of(folders);
        Finding wet = days.findings().get(0);
        assertThat(wet.subject()).containsEntry("day", "2026-05-14, after rain");
        assertThat(wet.verdict().word()).isEqualTo("beyond");
        Estimate d = wet.estimate().orElseThrow();
        assertThat(68 * MM).isBetween(d.low(), d.high());
        Days.OverDays alder = days.machines().get(0);
        Interlaboratory.Known known = alder.known().orElseThrow();
        // 18 mm from circle to circle, and 8 mm/√2 of the readings' own; the days scatter by 39 mm
        assertThat(Math.hypot(18, 8 / Math.sqrt(2)) * MM)
                .isBetween(known.repeatability().low(), known.repeatability().high());
        assertThat(Math.hypot(39, 19) * MM)
                .isBetween(
                        known.reproducibility().low(), known.reproducibility().high());
        assertThat(Optional.of(alder.restsOnAssumption())).contains(false);
    }

    @Test
    void aVerdictThatHangsOnOneCircle_namesIt_andFallsWithoutIt() {
        List<Days.Folder> demo = List.of(demo("monday"), demo("thursday"), demo("saturday"));
        Finding thursday = afterRain(Days.of(demo));
        assertThat(thursday.robustness().orElseThrow().fallsWithout())
                .containsExactly("circle T7 of 2026-05-14, after rain");
        List<Days.Folder> without = demo.stream()
                .map(f -> new Days.Folder(
                        f.path(),
                        f.trial()
                                .withCircles(f.trial().circles().stream()
                                        .filter(c -> !c.id().equals("T7"))
                                        .toList())))
                .toList();
        assertThat(thursday.verdict().decided()).isTrue();
        assertThat(afterRain(Days.of(without)).verdict().decided()).isFalse();
    }

    private static Days.Folder demo(String day) {
        Path folder = Path.of("testdata/days", day);
        return new Days.Folder(folder.toString(), TrialFolder.read(folder).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(faulty.problems());
        }));
    }

    private static Finding afterRain(Days days) {
        return days.findings().stream()
                .filter(f -> f.sentence().contains("after rain its circles"))
                .findFirst()
                .orElseThrow();
    }

    /** One circle to a side and day, NaN where none was driven (mm). */
    private static Days.Folder single(int day, double left, double right) {
        Trials trials = Trials.inMillimetres().machine("Alder");
        if (!Double.isNaN(left)) {
            trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL, left);
        }
        if (!Double.isNaN(right)) {
            trials.circle("2", Turn.RIGHT, Drive.TWO_WHEEL, right);
        }
        return folder("d" + day, day, "day", trials.trial());
    }

    /** Left 1600, 1610, 1640 and right 1750, 1770: each day against the mean of the others that drove the same. */
    @Test
    void aDay_isHeldAgainstTheDaysThatDroveTheSame() {
        List<Days.Against> against = Days.of(
                        List.of(single(11, 1600, 1750), single(12, 1610, 1770), single(13, 1640, Double.NaN)))
                .machines()
                .get(0)
                .against();
        assertThat(against)
                .extracting(Days.Against::day)
                .containsExactly("2026-05-13, day", "2026-05-12, day", "2026-05-11, day");
        double close = 0.1 * MM; // the missed centre is worth a little less on a larger circle
        assertThat(against.get(0).difference().value()).isCloseTo(35 * MM, within(close));
        assertThat(against.get(0).cells()).hasSize(1);
        // 1610 less the mean of 1600 and 1640, 1770 less 1750
        assertThat(against.get(1).cells().get(0).difference().value()).isCloseTo(-10 * MM, within(close));
        assertThat(against.get(1).cells().get(1).difference().value()).isCloseTo(20 * MM, within(close));
        assertThat(against.get(1).difference().value()).isCloseTo(5 * MM, within(close));
        assertThat(against.get(2).difference().value()).isCloseTo(-22.5 * MM, within(close));
    }

    /** The square of the standard uncertainty of the first of two days against the other (m²). */
    private static double variance(double edge, boolean bothTurns) {
        List<Days.Folder> folders = new ArrayList<>();
        for (int day : new int[] {11, 14}) {
            Trials trials =
                    Trials.inMillimetres().edge(edge).machine("Alder").circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600);
            if (bothTurns) {
                trials.circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1600);
            }
            folders.add(folder("d" + day, day, "day", trials.trial()));
        }
        return Math.pow(
                Days.of(folders).machines().get(0).against().get(0).difference().standardUncertainty(), 2);
    }

    /** An edge seen otherwise on another day moves all circles of that day: driving both turns makes it no smaller. */
    @Test
    void theEyeForTheEdge_doesNotCancelBetweenDays() {
        double one = variance(60, false) - variance(0, false);
        assertThat(one).isPositive();
        assertThat(variance(30, false) - variance(0, false)).isCloseTo(one / 4, within(1e-9));
        assertThat(variance(60, true) - variance(0, true)).isCloseTo(one, within(1e-9));
    }

    /** Two turns of three and of two days: squares about the means of each, over 3 degrees of freedom, are those of 2 days more. */
    @Test
    void whatASingleDayIsWorth_isLearntFromTheMeansOfTheDays() {
        List<Days.Folder> folders =
                List.of(single(11, 1600, 1750), single(12, 1610, 1780), single(13, 1660, Double.NaN));
        Days.OverDays alder = Days.of(folders).machines().get(0);
        double squares = 0;
        for (Days.Level level : alder.levels()) {
            double mean = level.measured().groups().stream()
                    .mapToDouble(Interlaboratory.Group::mean)
                    .average()
                    .orElseThrow();
            for (Interlaboratory.Group group : level.measured().groups()) {
                squares += Math.pow(group.mean() - mean, 2);
            }
        }
        double resolution = 0.001 / Math.sqrt(12);
        assertThat(alder.singleDay())
                .isCloseTo(
                        ScatterPosterior.of(squares / 3 * 2, 2, new HalfT(0.05), resolution)
                                .contrast(0, 1)
                                .estimate(0.95)
                                .halfWidth(),
                        within(1e-9));
        assertThat(alder.known()).isEmpty();
        // the most that any of the days assumes
        Days.Folder wild = folders.get(1);
        Trial doubled = wild.trial().withConditions(wild.trial().conditions().withAssumedRepeatability(2));
        assertThat(Days.of(List.of(folders.get(0), new Days.Folder("x", doubled), folders.get(2)))
                        .machines()
                        .get(0)
                        .singleDay())
                .isCloseTo(
                        ScatterPosterior.of(squares / 3 * 2, 2, new HalfT(0.1), resolution)
                                .contrast(0, 1)
                                .estimate(0.95)
                                .halfWidth(),
                        within(1e-9));
    }

    private static List<Days.Folder> sixDays(double last, double scatter) {
        double[] of = {0, 1, -1, 0, 2};
        List<Days.Folder> folders = new ArrayList<>();
        for (int i = 0; i < of.length; i++) {
            folders.add(single(11 + i, 1600 + scatter * of[i], Double.NaN));
        }
        folders.add(single(16, last, Double.NaN));
        return folders;
    }

    /** h of one mean far from five that agree is nearly 5/√6 = 2.04, beyond the 1.92 of the tables for six. */
    @Test
    void aDayFarFromTheOthers_isNamed_butNotForAFewMillimetres() {
        Days.OverDays alder = Days.of(sixDays(1700, 1)).machines().get(0);
        assertThat(alder.summary())
                .isEqualTo(
                        "Alder, 6 days, left turn in 2WD: no turn and drive was driven twice on any day, so that repeatability and"
                                + " reproducibility cannot be told apart. A single day's figure for one turn and drive can be off by "
                                + metric(alder.singleDay())
                                + " either way, with a probability of 95 %, however well it was measured on that day. 2026-05-16,"
                                + " day lies conspicuously far from the other days: left turn in 2WD (Mandel's h).");
        // 4 mm are less than a tenth of the margin of 50 mm, however much closer the others agree
        assertThat(Days.of(sixDays(1604, 0.04)).machines().get(0).summary()).doesNotContain("conspicuously");
    }

    @Test
    void sentenceOfADayWithSmallerCircles_turnsTheIntervalRound() {
        Days days = Days.of(sixDays(1400, 1));
        Finding last = days.findings().stream()
                .filter(f -> "2026-05-16, day".equals(f.subject().get("day")))
                .findFirst()
                .orElseThrow();
        Estimate d = last.estimate().orElseThrow();
        // the missed centre is worth 0.1 mm more on a circle smaller by an eighth
        assertThat(d.value()).isCloseTo(-200.4 * MM, within(0.2 * MM));
        assertThat(last.sentence())
                .startsWith("Alder: on 2026-05-16, day its circles were " + metric(-d.value())
                        + " smaller than the mean of the other days (left turn in 2WD), "
                        + between(-d.high(), -d.low())
                        + "; that is beyond the practical margin of 50 mm (2.0 in) with a probability of "
                        + percent(last.verdict().probability()) + ": it matters on which day it was measured.");
        assertThat(days.findings()).hasSize(6);
    }

    private static String percent(double probability) {
        return probability > 0.999 ? "over 99.9 %" : text(100 * probability, 1) + " %";
    }

    @Test
    void threeDaysAlike_agreeEachWithTheOthers() {
        List<Days.Folder> folders = new ArrayList<>();
        for (int day : new int[] {11, 14, 16}) {
            folders.add(folder("d" + day, day, "day", day(1600, 1750).trial()));
        }
        Days days = Days.of(folders);
        assertThat(days.findings())
                .hasSize(3)
                .allSatisfy(f -> assertThat(f.sentence()).endsWith(": this day agrees with the others."));
        // no difference at all, and no order among the days but their own
        assertThat(days.machines().get(0).against())
                .extracting(Days.Against::day)
                .containsExactly("2026-05-11, day", "2026-05-14, day", "2026-05-16, day");
    }

    @Test
    void settingsThatDiffer_areSaidInWholeSentences() {
        Days days = Days.of(List.of(
                folder(
                        "a",
                        11,
                        "dry",
                        day(1600, 1750).margin(40).confidence(0.9).trial()),
                folder("b", 14, "wet", day(1600, 1750).trial())));
        assertThat(days.warnings())
                .extracting(Warning::where, Warning::message)
                .containsExactly(
                        tuple(
                                "trial.csv, practical margin",
                                "The folders state different margins; the smallest, 40 mm (1.6 in), is used for all days."),
                        tuple(
                                "trial.csv, confidence",
                                "The folders state different confidences; the highest is used for all days."));
        assertThat(Days.of(threeDays()).warnings()).isEmpty();
    }

    /** What is stated of the machine on two days, one thing at a time: a stop counts as it was driven. */
    @Test
    void aMachineIsBuiltAlike_whereEverythingThatTurnsItIs() {
        Machine plain = machine(builtPlainly());
        assertThat(Days.sameBuild(plain, machine(builtPlainly()))).isTrue();
        assertThat(Days.sameBuild(
                        plain,
                        machine(built(1500, 950).deckOffset(30).deckOfThree(30).stop(Turn.LEFT, 28, 28, true))))
                .isFalse();
        assertThat(Days.sameBuild(
                        plain,
                        machine(built(1450, 960).deckOffset(30).deckOfThree(30).stop(Turn.LEFT, 28, 28, true))))
                .isFalse();
        assertThat(Days.sameBuild(
                        plain,
                        machine(built(1450, 950).deckOffset(31).deckOfThree(30).stop(Turn.LEFT, 28, 28, true))))
                .isFalse();
        assertThat(Days.sameBuild(
                        plain,
                        machine(built(1450, 950).deckOffset(30).deckOfThree(31).stop(Turn.LEFT, 28, 28, true))))
                .isFalse();
        assertThat(Days.sameBuild(
                        plain,
                        machine(built(1450, 950).deckOffset(30).deckOfThree(30).stop(Turn.LEFT, 28, 29, true))))
                .isFalse();
        // another contact or specification does not turn it otherwise by itself
        assertThat(Days.sameBuild(
                        plain,
                        machine(built(1450, 950).deckOffset(30).deckOfThree(30).stop(Turn.LEFT, 27, 28, false))))
                .isTrue();
    }

    /** The same blades and stops, written down in another order, the spindles called otherwise. */
    @Test
    void aMachine_isBuiltAlike_whateverTheOrderOfItsRows() {
        Trials here = built(1450, 950)
                .blade(900, 300, 200)
                .blade(600, 0, 200)
                .stop(Turn.LEFT, 28, 28, true)
                .stop(Turn.RIGHT, 28, 30, true);
        Trials there = built(1450, 950)
                .blade(600, 0, 200)
                .blade(900, 300, 200)
                .stop(Turn.RIGHT, 28, 30, true)
                .stop(Turn.LEFT, 28, 28, true);
        assertThat(Days.sameBuild(machine(here), machine(there))).isTrue();
        Trials exchanged = built(1450, 950)
                .blade(900, 300, 200)
                .blade(600, 0, 200)
                .stop(Turn.LEFT, 28, 30, true)
                .stop(Turn.RIGHT, 28, 28, true);
        assertThat(Days.sameBuild(machine(here), machine(exchanged))).isFalse();
        Trials twice = built(1450, 950)
                .blade(900, 300, 200)
                .blade(900, 300, 200)
                .stop(Turn.LEFT, 28, 28, true)
                .stop(Turn.RIGHT, 28, 30, true);
        assertThat(Days.sameBuild(machine(here), machine(twice))).isFalse();
    }

    private static Trials builtPlainly() {
        return built(1450, 950).deckOffset(30).deckOfThree(30).stop(Turn.LEFT, 28, 28, true);
    }

    private static Trials built(double wheelbase, double track) {
        return Trials.inMillimetres().machine("Alder").axles(wheelbase, track);
    }

    private static Machine machine(Trials trials) {
        return trials.trial().machines().get(0);
    }

    @Test
    void machinesOfTwoFoldersOrMore_areInCommon_inTheOrderOfTheFirst() {
        List<Days.Folder> folders = List.of(
                folder(
                        "a",
                        11,
                        "day",
                        Trials.inMillimetres().machine("Cedar").machine("Alder").trial()),
                folder(
                        "b",
                        12,
                        "day",
                        Trials.inMillimetres().machine("Alder").machine("Birch").trial()),
                folder("c", 13, "day", Trials.inMillimetres().machine("Cedar").trial()));
        assertThat(Days.inCommon(folders)).containsExactly("Cedar", "Alder");
        Days days = Days.of(folders);
        assertThat(days.machines()).isEmpty();
        assertThat(days.findings())
                .extracting(Finding::subject)
                .containsExactly(
                        Map.of("machine", "Cedar", "days", "2026-05-11, day; 2026-05-13, day"),
                        Map.of("machine", "Alder", "days", "2026-05-11, day; 2026-05-12, day"));
        assertThat(days.findings().get(0).next())
                .isEqualTo("Drive the same turn and drive again on another day, then compare.");
    }
}
