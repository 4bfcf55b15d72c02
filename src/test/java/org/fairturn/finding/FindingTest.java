package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.fairturn.uncertainty.Estimate;
import org.junit.jupiter.api.Test;

class FindingTest {
    private static final DecisionRule RULE = new DecisionRule(0.05, 0.95);
    private static final Verdict BEYOND = new Verdict.Beyond(0.97, Verdict.Sense.EITHER);
    private static final Verdict WITHIN = new Verdict.Within(0.97);
    private static final Verdict OPEN =
            new Verdict.CannotTell(0.6, new Outlook(Map.of(), 0.5, Outlook.Obstacle.NEAR_MARGIN));

    private static Finding of(Question question, Verdict verdict, double value, String... subject) {
        Map<String, String> names = new LinkedHashMap<>();
        for (int i = 0; i < subject.length; i += 2) {
            names.put(subject[i], subject[i + 1]);
        }
        Estimate estimate = new Estimate(value, 0.01, value - 0.02, value + 0.02, 0.95);
        return Trials.told(question, names, verdict, estimate);
    }

    private static Finding sides(String machine, String other, Verdict verdict, double value) {
        return of(Question.SIDE_BY_SIDE, verdict, value, "machine", machine, "other", other, "turn", "all");
    }

    @Test
    void sameQuestionAndSubject_isTheSameAnswer_whicheverOfTwoIsNamedFirst() {
        Finding finding = sides("Alder", "Birch", WITHIN, 0.01);
        assertThat(finding.answersTheSameAs(sides("Alder", "Birch", BEYOND, 0.2)))
                .isTrue();
        assertThat(finding.answersTheSameAs(sides("Birch", "Alder", BEYOND, 0.2)))
                .isTrue();
        assertThat(finding.answersTheSameAs(sides("Birch", "Cedar", WITHIN, 0.01)))
                .isFalse();
        Finding measurer = of(Question.TESTERS, WITHIN, 0, "measurer", "Ann", "others", "Ben");
        assertThat(measurer.answersTheSameAs(of(Question.TESTERS, WITHIN, 0, "measurer", "Ben", "others", "Ann")))
                .isTrue();
        assertThat(measurer.answersTheSameAs(of(Question.CLAIM, WITHIN, 0, "measurer", "Ann", "others", "Ben")))
                .isFalse();
        Finding day = of(Question.SIDE_BY_SIDE, WITHIN, 0, "machine", "Alder", "day", "1 May", "otherDay", "2 May");
        assertThat(day.answersTheSameAs(
                        of(Question.SIDE_BY_SIDE, WITHIN, 0, "machine", "Alder", "day", "2 May", "otherDay", "1 May")))
                .isTrue();
        assertThat(day.answersTheSameAs(
                        of(Question.SIDE_BY_SIDE, WITHIN, 0, "machine", "Birch", "day", "2 May", "otherDay", "1 May")))
                .isFalse();
    }

    /** A name that stands alone has nothing to change places with. */
    @Test
    void oneMachine_isNotTurnedRound() {
        Map<String, String> subject = Map.of("machine", "Alder", "turn", "left");
        assertThat(Finding.reversed(subject)).isEqualTo(subject);
    }

    /** Beyond the margin the sign counts, turned round where the other counts from the other machine; else the word alone. */
    @Test
    void twoFindingsSayTheSame_whereWordAndSignAgree() {
        Finding tighter = sides("Alder", "Birch", BEYOND, -0.2);
        assertThat(tighter.saysTheSameAs(sides("Alder", "Birch", BEYOND, -0.4), /* reversed= */ false))
                .isTrue();
        assertThat(tighter.saysTheSameAs(sides("Alder", "Birch", BEYOND, 0.2), /* reversed= */ false))
                .isFalse();
        assertThat(tighter.saysTheSameAs(sides("Birch", "Alder", BEYOND, 0.2), /* reversed= */ true))
                .isTrue();
        assertThat(tighter.saysTheSameAs(sides("Birch", "Alder", BEYOND, -0.2), /* reversed= */ true))
                .isFalse();
        assertThat(tighter.saysTheSameAs(sides("Alder", "Birch", WITHIN, -0.2), /* reversed= */ false))
                .isFalse();
        assertThat(sides("Alder", "Birch", WITHIN, -0.01)
                        .saysTheSameAs(sides("Alder", "Birch", WITHIN, 0.01), /* reversed= */ false))
                .isTrue();
        assertThat(sides("Alder", "Birch", OPEN, -0.04)
                        .saysTheSameAs(sides("Alder", "Birch", OPEN, 0.04), /* reversed= */ false))
                .isTrue();
        Finding missing = Finding.notPossible(
                Question.CLAIM, Map.of(), List.of("a circle"), RULE, List.of(), true, "Cannot be asked.", "Drive one.");
        assertThat(missing.saysTheSameAs(missing, /* reversed= */ false)).isTrue();
    }

    @Test
    void partsAreFoundByTheirName() {
        Finding finding = Finding.notPossible(
                Question.LEFT_RIGHT,
                Map.of("machine", "Alder"),
                List.of("a circle"),
                RULE,
                List.of(new Part("measured", 0.3, 0.01), new Part("deck", 0.1, 0.02)),
                true,
                "Cannot be asked.",
                "Drive one.");
        assertThat(finding.part("deck")).contains(new Part("deck", 0.1, 0.02));
        assertThat(finding.part("chassis")).isEmpty();
        assertThat(finding.margin()).isEqualTo(0.05);
        assertThat(finding.restsOnAssumption()).isTrue();
    }

    @Test
    void verdictThatDoesNotHoldInTheFamily_saysSo() {
        Finding finding = Finding.notPossible(
                Question.CLAIM, Map.of(), List.of("a circle"), RULE, List.of(), true, "Cannot be asked.", "Drive one.");
        assertThat(finding.inFamily(true, "both questions")).isEqualTo(finding);
        Finding alone = finding.inFamily(false, "both questions");
        assertThat(alone.holdsInFamily()).isFalse();
        assertThat(alone.sentence())
                .isEqualTo("Cannot be asked. Counting both questions together, this one alone does not reach the"
                        + " confidence asked for.");
    }
}
