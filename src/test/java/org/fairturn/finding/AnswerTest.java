package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.junit.jupiter.api.Test;

/** How an answer is asked again, and when what comes out is the same. */
class AnswerTest {
    private static final Verdict WITHIN = new Verdict.Within(0.97);
    private static final Verdict BEYOND = new Verdict.Beyond(0.97, Verdict.Sense.EITHER);
    private static final Verdict WIDER = new Verdict.Beyond(0.97, Verdict.Sense.WIDER);
    private static final Verdict TIGHTER = new Verdict.Beyond(0.97, Verdict.Sense.TIGHTER);

    private static Finding finding(Verdict verdict, double value) {
        return Trials.told(
                Question.LEFT_RIGHT,
                Map.of("machine", "Alder"),
                verdict,
                new Estimate(value, 0.01, value - 0.02, value + 0.02, 0.95));
    }

    private static Answer.Then then(Verdict verdict, double value) {
        return new Answer.Then(Optional.of(verdict), value, 0.01);
    }

    @Test
    void aVerdictIsUpheld_byTheSameWord() {
        assertThat(then(WITHIN, 0.01).upholds(finding(WITHIN, 0.02))).isTrue();
        assertThat(then(WIDER, 0.2).upholds(finding(WIDER, 0.1))).isTrue();
        assertThat(then(TIGHTER, -0.2).upholds(finding(WIDER, 0.1))).isFalse();
        assertThat(then(WITHIN, 0.01).upholds(finding(BEYOND, 0.1))).isFalse();
        assertThat(new Answer.Then(Optional.empty(), 0.1, 0.01).upholds(finding(BEYOND, 0.1)))
                .isFalse();
        Finding open = finding(new Verdict.CannotTell(0.6, Outlook.NOT_LOOKED_FOR), 0.1);
        assertThat(new Answer.Then(Optional.empty(), -0.1, 0.01).upholds(open)).isTrue(); // no side was named
        assertThat(then(BEYOND, 0.1).upholds(open)).isFalse();
    }

    /** Two machines that have changed places are as far apart as before, and it is not the same that is said. */
    @Test
    void whatIsBeyondTheMargin_hasToBeSoOnTheSameSide() {
        assertThat(then(BEYOND, 0.2).upholds(finding(BEYOND, 0.1))).isTrue();
        assertThat(then(BEYOND, -0.2).upholds(finding(BEYOND, -0.1))).isTrue();
        assertThat(then(BEYOND, -0.2).upholds(finding(BEYOND, 0.1))).isFalse();
        assertThat(then(WITHIN, -0.01).upholds(finding(WITHIN, 0.01))).isTrue(); // either side of nothing
    }

    @Test
    void whatWasNotDecided_isNotAskedAgain() {
        Finding finding = finding(WITHIN, 0.01);
        Answer<String> open = Answer.open(finding);
        assertThat(open.finding()).isSameAs(finding);
        assertThat(open.machines()).isEmpty();
        assertThat(open.again().apply("anything")).isEmpty();
    }

    @Test
    void withOtherFindings_eachKeepsItsWayToAskAgain() {
        Answer<Double> first =
                new Answer<>(finding(WITHIN, 0.01), Set.of("Alder"), value -> Optional.of(then(WITHIN, value)));
        Answer<Double> second = Answer.open(finding(BEYOND, 0.1));
        List<Finding> inFamily = List.of(
                first.finding().inFamily(false, "all 2 questions"),
                second.finding().inFamily(true, ""));
        List<Answer<Double>> answers = Answer.with(List.of(first, second), inFamily);
        assertThat(Answer.findings(answers)).isEqualTo(inFamily);
        assertThat(answers.get(0).machines()).containsExactly("Alder");
        assertThat(answers.get(0).again().apply(0.03).orElseThrow().value()).isEqualTo(0.03);
        assertThat(answers.get(1).again().apply(0.03)).isEmpty();
    }

    @Test
    void asked_knowsAMachineByItsId_andACellByWhetherItWasDriven() {
        Trial trial = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .machine("Birch")
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1700)
                .machine("Cedar")
                .trial();
        Asked asked = Trials.asked(trial);
        assertThat(asked.machine("Birch").orElseThrow().machine().id()).isEqualTo("Birch");
        assertThat(asked.machine("Cedar")).isEmpty(); // no circle of it counts
        Cell left = new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE);
        assertThat(asked.driven(left)).isEqualTo(asked.machine("Alder")).isPresent();
        assertThat(asked.driven(new Cell("Birch", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE)))
                .isEmpty();
        assertThat(asked.driven(new Cell("Cedar", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE)))
                .isEmpty();
    }
}
