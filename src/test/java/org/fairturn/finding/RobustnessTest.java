package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeSet;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Length;
import org.junit.jupiter.api.Test;

class RobustnessTest {
    private static Trial demo() {
        return TrialFolder.read(Path.of("testdata/demo")).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    private static Trial with(Trial trial, List<Circle> circles) {
        return new Trial(trial.folder(), trial.conditions(), trial.machines(), circles, trial.claims());
    }

    /** Two that are compared may change places: whoever has the smaller circles, or reads more, comes first. */
    private static boolean stands(Finding finding, Analysis changed) {
        return changed.findings().stream()
                .filter(f -> f.question() == finding.question()
                        && new TreeSet<>(f.subject().values())
                                .equals(new TreeSet<>(finding.subject().values()))
                        && f.subject().keySet().equals(finding.subject().keySet()))
                .anyMatch(f -> f.verdict().word().equals(finding.verdict().word()));
    }

    /** The second, slower route: the whole analysis of a folder in which the row is missing. */
    private static void agreesWithWholeAnalyses(Trial trial, int step) {
        Analysis analysis = Analysis.of(trial);
        List<Finding> decided =
                analysis.findings().stream().filter(f -> f.verdict().decided()).toList();
        assertThat(decided).isNotEmpty();
        for (int i = 0; i < trial.circles().size(); i += step) {
            Circle circle = trial.circles().get(i);
            List<Circle> rest = new ArrayList<>(trial.circles());
            rest.remove(circle);
            compare(decided, circle.use(), "circle " + circle.id(), Analysis.of(with(trial, rest)));
            if (circle.readings().size() > 1) {
                Reading reading = circle.readings().get(0);
                rest = new ArrayList<>(trial.circles());
                rest.replaceAll(c -> c.equals(circle)
                        ? c.withReadings(c.readings().subList(1, c.readings().size()))
                        : c);
                compare(decided, circle.use(), Observations.where(reading), Analysis.of(with(trial, rest)));
            }
        }
        for (double factor : new double[] {0.5, 2}) {
            Analysis changed = Analysis.of(new Trial(
                    trial.folder(),
                    trial.conditions().withAssumedRepeatability(factor),
                    trial.machines(),
                    trial.circles(),
                    trial.claims()));
            for (Finding finding : decided) {
                Robustness robustness = finding.robustness().orElseThrow();
                assertThat(
                                factor < 1
                                        ? robustness.standsWithHalvedRepeatability()
                                        : robustness.standsWithDoubledRepeatability())
                        .isEqualTo(stands(finding, changed));
            }
        }
    }

    private static void compare(List<Finding> decided, boolean counts, String what, Analysis changed) {
        for (Finding finding : decided) {
            assertThat(finding.robustness().orElseThrow().fallsWithout().contains(what))
                    .as("%s without %s", finding.subject(), what)
                    .isEqualTo(counts && !stands(finding, changed));
        }
    }

    @Test
    void demo_agreesWithWholeAnalyses() {
        agreesWithWholeAnalyses(demo(), 3); // every third circle, for the time it takes
    }

    /** Verdicts that hang by a thread: some fall without one circle or reading, some with another assumption. */
    @Test
    void closeCalls_agreeWithWholeAnalyses() {
        Trial trial = closeCalls().trial();
        agreesWithWholeAnalyses(trial, 1);
        List<Robustness> found = Analysis.of(trial).findings().stream()
                .map(Finding::robustness)
                .flatMap(Optional::stream)
                .toList();
        assertThat(found).anyMatch(r -> !r.fallsWithout().isEmpty());
        assertThat(found).anyMatch(r -> !r.standsWithDoubledRepeatability());
    }

    private static Trials closeCalls() {
        return Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(0)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1612)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1640)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, 1790, 1796)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1765, 1766)
                .circle("5", Turn.LEFT, Drive.FOUR_WHEEL, 1745, 1752)
                .circle("6", Turn.LEFT, Drive.FOUR_WHEEL, 1760)
                .circle("7", Turn.RIGHT, Drive.FOUR_WHEEL, 2000)
                .machine("Birch")
                .circle("8", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .circle("9", Turn.LEFT, Drive.FOUR_WHEEL, 1880);
    }

    @Test
    void undecidedFindings_haveNothingToOverturn() {
        assertThat(Analysis.of(demo()).findings())
                .allMatch(f -> f.robustness().isPresent() == f.verdict().decided());
    }

    private static String sentence(Trials trials, Map<String, String> subject) {
        return trials.analysed().findings().stream()
                .filter(f -> f.subject().equals(subject))
                .findFirst()
                .flatMap(Finding::robustness)
                .orElseThrow()
                .sentence();
    }

    private static Trials wideApart(int circles) {
        Trials trials = Trials.inMillimetres().machine("Alder").deckOfThree(0);
        for (int i = 0; i < circles; i++) {
            trials.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL, 1600 + 5 * i, 1603 + 5 * i);
            trials.circle("r" + i, Turn.RIGHT, Drive.TWO_WHEEL, 2200 + 5 * i);
            trials.circle("L" + i, Turn.LEFT, Drive.FOUR_WHEEL, 2200 + 5 * i);
        }
        return trials;
    }

    @Test
    void whatStands_isSaid_theDeckWhereItMatters() {
        assertThat(sentence(wideApart(3), Map.of("machine", "Alder", "drive", "2WD")))
                .isEqualTo(
                        "Stands whatever single circle or reading is left out, with the assumed repeatability halved or"
                                + " doubled, and with the deck offset at either end of its range.");
        assertThat(sentence(wideApart(3), Map.of("machine", "Alder", "turn", "left")))
                .isEqualTo(
                        "Stands whatever single circle or reading is left out, and with the assumed repeatability halved or"
                                + " doubled.");
    }

    @Test
    void whatFalls_isSaidWithWhatThenRemains() {
        assertThat(sentence(wideApart(1), Map.of("machine", "Alder", "turn", "left")))
                .isEqualTo(
                        "Falls whichever of its circles is left out (then: not possible). It hangs on every single circle,"
                                + " too few to be relied on.");
        Trials oneRight = Trials.inMillimetres().machine("Alder").deckOfThree(0);
        for (int i = 0; i < 3; i++) {
            oneRight.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL, 1600 + 5 * i, 1603 + 5 * i);
        }
        oneRight.circle("r", Turn.RIGHT, Drive.TWO_WHEEL, 2200, 2203);
        assertThat(sentence(oneRight, Map.of("machine", "Alder", "drive", "2WD")))
                .isEqualTo("Falls if circle r is left out (then: not possible). Otherwise it stands.");
    }

    /** 2 × 5 mm of deck move the remainder by about 35 mm: more than this verdict has to spare, to one side. */
    @Test
    void deckAtOneEndOfItsRange_canOverturn() {
        Trials trials = Trials.inMillimetres().machine("Alder").deckOfThree(0);
        for (int i = 0; i < 6; i++) {
            trials.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL, 1600 + i % 3, 1601 + i % 3);
            trials.circle("r" + i, Turn.RIGHT, Drive.TWO_WHEEL, 1686 + i % 3, 1687 + i % 3);
        }
        assertThat(sentence(trials, Map.of("machine", "Alder", "drive", "2WD")))
                .isEqualTo("Falls with the deck offset two standard uncertainties further left (then: cannot tell yet)."
                        + " Otherwise it stands.");
    }

    @Test
    void orderOfRows_changesNothing() {
        Trial trial = closeCalls().trial();
        List<Circle> backwards = new ArrayList<>(trial.circles());
        Collections.reverse(backwards);
        List<Finding> found = Analysis.of(with(trial, backwards)).findings();
        List<Finding> expected = Analysis.of(trial).findings();
        for (int i = 0; i < expected.size(); i++) {
            assertThat(found.get(i).robustness().map(r -> List.copyOf(new TreeSet<>(r.fallsWithout()))))
                    .isEqualTo(expected.get(i).robustness().map(r -> List.copyOf(new TreeSet<>(r.fallsWithout()))));
        }
    }

    private static String sentence(Trials trials, Question question) {
        return trials.analysed().findings().stream()
                .filter(f -> f.question() == question)
                .findFirst()
                .flatMap(Finding::robustness)
                .orElseThrow()
                .sentence();
    }

    @Test
    void sideBySide_canHangOnOneCircle() {
        Trials trials = Trials.inMillimetres().machine("Alder");
        for (int i = 0; i < 3; i++) {
            trials.circle("a" + i, Turn.LEFT, Drive.TWO_WHEEL, 1600 + 3 * i);
        }
        trials.machine("Birch").circle("b", Turn.LEFT, Drive.TWO_WHEEL, 3000);
        assertThat(sentence(trials, Question.SIDE_BY_SIDE))
                .isEqualTo("Falls if circle b is left out (then: not possible). Otherwise it stands.");
    }

    /** Which of two machines that mow alike has the smaller circles changes with every circle; the verdict does not. */
    @Test
    void sideBySide_stands_whereTheMachinesChangePlaces() {
        Trials trials = Trials.inMillimetres().machine("Alder");
        for (int i = 0; i < 6; i++) {
            trials.circle("a" + i, Turn.LEFT, Drive.TWO_WHEEL, 1600 + 2 * i);
        }
        trials.machine("Birch");
        for (int i = 0; i < 6; i++) {
            trials.circle("b" + i, Turn.LEFT, Drive.TWO_WHEEL, 1600.1 + 2 * i);
        }
        assertThat(sentence(trials, Question.SIDE_BY_SIDE))
                .isEqualTo(
                        "Stands whatever single circle is left out, and with the assumed repeatability halved or doubled.");
    }

    private static Trials oneCircleAgainstAClaim(double claimed) {
        return Trials.inMillimetres()
                .machine("Alder")
                .circle("l", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1604)
                .claim(
                        "C",
                        claimed,
                        Claim.Quantity.UNCUT_DIAMETER,
                        "Alder",
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.of(Brakes.NONE));
    }

    @Test
    void claim_canHangOnTheAssumedRepeatability() {
        assertThat(sentence(oneCircleAgainstAClaim(1900), Question.CLAIM))
                .isEqualTo(
                        "Falls if circle l is left out, or with the assumed repeatability doubled (then: not possible or"
                                + " cannot tell yet). Otherwise it stands.");
    }

    @Test
    void claimsWithStatedUncertainties_restOnThemAlone() {
        Trials trials = oneCircleAgainstAClaim(1900).circle("m", Turn.LEFT, Drive.TWO_WHEEL, 1610);
        for (int value : List.of(1500, 2500)) {
            trials.claim(
                    "S" + value,
                    value,
                    Claim.Quantity.TURN_RADIUS,
                    "Alder",
                    Optional.of(Turn.LEFT),
                    Optional.of(Drive.TWO_WHEEL),
                    Optional.of(Brakes.NONE),
                    Optional.of(Length.mm(10)),
                    OptionalInt.empty());
        }
        assertThat(trials.analysed().findings().stream()
                        .filter(f -> f.subject().getOrDefault("reading", "").equals("against claim S2500, turn radius"))
                        .map(f -> f.robustness().orElseThrow().sentence()))
                .containsExactly(
                        "Rests on the stated figures alone: no circle, no reading and no assumed repeatability has a"
                                + " part in it.");
    }

    @Test
    void testers_areTriedWithoutTheDeck() {
        Trials trials = Trials.inMillimetres().machine("Alder").deckOfThree(0);
        for (int i = 0; i < 4; i++) {
            trials.circle("c" + i, Turn.LEFT, Drive.TWO_WHEEL)
                    .measuredBy("M1")
                    .across(1600 + i, 1602 + i)
                    .measuredBy("M2")
                    .across(1601 + i, 1604 + i);
        }
        assertThat(sentence(trials, Question.TESTERS))
                .isEqualTo(
                        "Stands whatever single circle or reading is left out, and with the assumed repeatability halved or"
                                + " doubled.");
    }

    /** A claim that leaves turn and drive open is one question, however much it may mean. */
    @Test
    void lessLikelyReadingsOfAClaim_doNotCountInTheFamily() {
        Trial without = demo();
        Trial vague = new Trial(
                without.folder(),
                without.conditions(),
                without.machines(),
                without.circles(),
                List.of(without.claims().get(0)));
        Trial none =
                new Trial(without.folder(), without.conditions(), without.machines(), without.circles(), List.of());
        Analysis analysis = Analysis.of(vague);
        assertThat(analysis.claims().get(0).readings()).hasSize(4);
        int questions = (int) Analysis.of(none).findings().stream()
                .filter(f -> f.estimate().isPresent())
                .count();
        Finding lessLikely = analysis.findings().stream()
                .filter(f -> f.question() == Question.CLAIM && !f.holdsInFamily())
                .findFirst()
                .orElseThrow();
        assertThat(analysis.leads(lessLikely)).isFalse();
        assertThat(lessLikely.sentence())
                .endsWith(
                        "Counting all " + (questions + 1) + " questions of this trial together, this one alone does not"
                                + " reach the confidence asked for.");
    }

    /** A quantity that is a number, beyond 50 mm, within it down to a tenth of that, and open between. */
    private static Optional<Answer.Then> then(double q) {
        Verdict verdict = Math.abs(q) > 0.05
                ? new Verdict.Beyond(0.99, Verdict.Sense.EITHER)
                : Math.abs(q) < 0.005 ? new Verdict.Within(0.99) : null;
        return Optional.of(new Answer.Then(Optional.ofNullable(verdict), q, 0.01));
    }

    private static Answer<Double> number(double value) {
        return new Answer<>(
                Trials.told(
                        Question.LEFT_RIGHT,
                        Map.of("machine", "Alder"),
                        then(value).orElseThrow().verdict().orElseThrow(),
                        new Estimate(value, 0.01, value - 0.02, value + 0.02, 0.95)),
                Set.of("Alder"),
                RobustnessTest::then);
    }

    /** A change, and what the quantity is then. */
    private record Tried(Robustness.Kind kind, String what, double then) {
        Robustness.Change<Double> change() {
            return new Robustness.Change<>(kind, what, Optional.empty(), () -> then);
        }
    }

    /** What is said of a quantity of 100 mm that changes come to. */
    private static Robustness robustness(Tried... tried) {
        List<Robustness.Change<Double>> all = new ArrayList<>();
        all.add(new Tried(Robustness.Kind.UNCHANGED, "", 0.1).change());
        for (Tried one : tried) {
            all.add(one.change());
        }
        return Robustness.of(List.of(number(0.1)), () -> all)
                .get(0)
                .robustness()
                .orElseThrow();
    }

    @Test
    void onlyWhatMovesIt_isSaidToHaveBeenTried() {
        Tried circle = new Tried(Robustness.Kind.CIRCLE, "circle 1", 0.09);
        Tried unmoved = new Tried(Robustness.Kind.CIRCLE, "circle 2", 0.1);
        Tried reading = new Tried(Robustness.Kind.READING, "readings.csv, row 2", 0.09);
        Tried halved = new Tried(Robustness.Kind.HALVED, "", 0.09);
        Tried doubled = new Tried(Robustness.Kind.DOUBLED, "", 0.09);
        Tried deck = new Tried(Robustness.Kind.DECK, "left", 0.09);
        String circles = "Stands whatever single circle is left out";
        String assumed = "with the assumed repeatability halved or doubled";
        assertThat(robustness(circle, unmoved).sentence()).isEqualTo(circles + ".");
        assertThat(robustness(reading).sentence()).isEqualTo("Stands whatever single circle or reading is left out.");
        assertThat(robustness(unmoved, halved).sentence()).isEqualTo("Stands " + assumed + ".");
        assertThat(robustness(circle, doubled).sentence()).isEqualTo(circles + ", and " + assumed + ".");
        assertThat(robustness(deck).sentence()).isEqualTo("Stands with the deck offset at either end of its range.");
        assertThat(robustness(unmoved).sentence()).startsWith("Rests on the stated figures alone: ");
    }

    @Test
    void whatItFallsWithout_isNamedAsItIsSpokenOf() {
        String then = " left out (then: cannot tell yet). Otherwise it stands.";
        Tried circle = new Tried(Robustness.Kind.CIRCLE, "circle 1", 0.02);
        Tried reading = new Tried(Robustness.Kind.READING, "readings.csv, row 2", 0.02);
        Tried points = new Tried(Robustness.Kind.READING, "points of circle 1", 0.02);
        assertThat(robustness(circle).sentence()).isEqualTo("Falls if circle 1 is" + then);
        assertThat(robustness(reading).sentence()).isEqualTo("Falls if readings.csv, row 2 is" + then);
        assertThat(robustness(points).sentence()).isEqualTo("Falls if the points of circle 1 are" + then);
        Tried third = new Tried(Robustness.Kind.CIRCLE, "circle 3", -0.1);
        Robustness all = robustness(reading, circle, third, new Tried(Robustness.Kind.CIRCLE, "circle 4", 0.09));
        assertThat(all.fallsWithout()).containsExactly("circle 1", "circle 3", "readings.csv, row 2");
        assertThat(all.standsWithoutAnyCircle()).isFalse();
        assertThat(all.standsWithoutAnyReading()).isFalse();
        assertThat(all.standsWithHalvedRepeatability()).isTrue();
        assertThat(all.sentence())
                .isEqualTo(
                        "Falls if one of these is left out: circle 1; circle 3; readings.csv, row 2 (then: cannot tell yet or"
                                + " beyond the margin). Otherwise it stands.");
        // where no circle is left that it stands without, there is nothing for it to stand on
        Robustness every = robustness(reading, circle, third, new Tried(Robustness.Kind.DOUBLED, "", 0.02));
        assertThat(every.fallsWithout()).containsExactly("circle 1", "circle 3", "readings.csv, row 2");
        assertThat(every.sentence())
                .isEqualTo(
                        "Falls whichever of its circles is left out, or with the assumed repeatability doubled (then: cannot"
                                + " tell yet or beyond the margin). It hangs on every single circle, too few to be relied on.");
        Robustness otherwise = robustness(
                new Tried(Robustness.Kind.HALVED, "", 0.001),
                new Tried(Robustness.Kind.DOUBLED, "", 0.02),
                new Tried(Robustness.Kind.DECK, "right", 0.02));
        assertThat(otherwise.fallsWithout()).isEmpty();
        assertThat(List.of(
                        otherwise.standsWithHalvedRepeatability(),
                        otherwise.standsWithDoubledRepeatability(),
                        otherwise.standsWithDeckAtEitherEnd()))
                .containsOnly(false);
        assertThat(otherwise.sentence())
                .isEqualTo(
                        "Falls with the assumed repeatability halved, or with the assumed repeatability doubled, or with the"
                                + " deck offset two standard uncertainties further right (then: within the margin or cannot tell yet)."
                                + " Otherwise it stands.");
    }

    /** Of a change to Birch nobody asks what it makes of Alder; and where nothing was decided, nothing is changed. */
    @Test
    void whatCannotMatter_isNotTried() {
        List<String> tried = new ArrayList<>();
        Answer<String> alder = new Answer<>(number(0.1).finding(), Set.of("Alder"), what -> {
            tried.add(what);
            return then(0.1);
        });
        List<Robustness.Change<String>> changes = new ArrayList<>();
        for (String machine : List.of("", "Alder", "Birch")) {
            changes.add(new Robustness.Change<>(
                    Robustness.Kind.CIRCLE,
                    "circle",
                    Optional.of(machine).filter(m -> !m.isEmpty()),
                    () -> "of " + machine));
        }
        Robustness.of(List.of(alder), () -> changes);
        assertThat(tried).containsExactlyInAnyOrder("of ", "of Alder");

        Finding open = Trials.told(
                Question.LEFT_RIGHT,
                Map.of("machine", "Alder"),
                new Verdict.CannotTell(0.6, Outlook.NOT_LOOKED_FOR),
                new Estimate(0, 1, -2, 2, 0.95));
        List<Finding> findings = Robustness.of(List.of(Answer.<String>open(open)), () -> {
            throw new AssertionError("nothing to overturn");
        });
        assertThat(findings).containsExactly(open);
    }

    /** The mirror image of the deck that falls to the left, and points as the reading that is left out. */
    @Test
    void deckAndPoints_areTriedOfATrialToo() {
        Trials trials = Trials.inMillimetres().machine("Alder").deckOfThree(0);
        for (int i = 0; i < 6; i++) {
            trials.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL, 1686 + i % 3, 1687 + i % 3);
            trials.circle("r" + i, Turn.RIGHT, Drive.TWO_WHEEL, 1600 + i % 3, 1601 + i % 3);
        }
        assertThat(sentence(trials, Map.of("machine", "Alder", "drive", "2WD")))
                .contains("two standard uncertainties further right (");
        // read straight across alone it would be a circle of 1800 mm, too near the claim to tell
        Trials points = Trials.inMillimetres()
                .machine("Alder")
                .circle("p", Turn.LEFT, Drive.TWO_WHEEL, 1800)
                .points(12, 1600)
                .claim(
                        "C",
                        1900,
                        Claim.Quantity.UNCUT_DIAMETER,
                        "Alder",
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.of(Brakes.NONE),
                        Optional.of(Length.mm(1)),
                        OptionalInt.empty());
        assertThat(sentence(points, Question.CLAIM))
                .isEqualTo(
                        "Falls if one of these is left out: circle p; points of circle p (then: not possible or cannot tell yet)."
                                + " Otherwise it stands.");
    }
}
