package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.BiPredicate;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Which of the six questions are asked, of whom, and in which order they are answered. */
class AnswersTest {
    private static Analysis analysis;

    /** Two machines, both turns, both drives, a claim, a reference, and two who measured the same circles. */
    @BeforeAll
    static void analyse() {
        Trials trials = Trials.inMillimetres();
        for (String machine : List.of("Alder", "Birch")) {
            trials.machine(machine).deckOfThree(0);
            for (Drive drive : Drive.values()) {
                for (Turn turn : Turn.values()) {
                    double d = (drive == Drive.TWO_WHEEL ? 1600 : 1700) + (turn == Turn.LEFT ? 0 : 30);
                    trials.circle(machine.charAt(0) + drive.word() + turn.word(), turn, drive)
                            .measuredBy("Ann")
                            .across(d, d + 3)
                            .measuredBy("Ben")
                            .across(d + 2, d - 1);
                }
            }
        }
        analysis = trials.reference(1640, Turn.LEFT, Drive.TWO_WHEEL, 10, "manual")
                .claim(
                        "C",
                        1640,
                        Claim.Quantity.UNCUT_DIAMETER,
                        "Alder",
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.of(Brakes.NONE),
                        Optional.of(Length.mm(60)),
                        OptionalInt.empty())
                .analysed();
    }

    private static Asked asked(Set<Question> questions) {
        return new Asked(
                analysis.trial(),
                analysis.circles(),
                analysis.machines(),
                questions,
                id -> true,
                /* verdictsOnly= */ false);
    }

    private static List<Finding> findings(Asked asked) {
        return Answers.of(asked).findings();
    }

    @Test
    void everyQuestionHasItsAnswers_inReadingOrder() {
        List<Finding> all = findings(Asked.everything(analysis.trial(), analysis.circles(), analysis.machines()));
        assertThat(all.stream().map(Finding::question).distinct()).containsExactly(Question.values());
        assertThat(all.stream().map(Finding::question).toList()).isSorted();
        assertThat(all).allMatch(f -> !f.sentence().isEmpty());
    }

    @Test
    void aQuestionNotAsked_isNotAnswered() {
        for (Question question : Question.values()) {
            assertThat(findings(asked(EnumSet.of(question))).stream()
                            .map(Finding::question)
                            .distinct())
                    .containsExactly(question);
        }
        assertThat(findings(asked(EnumSet.noneOf(Question.class)))).isEmpty();
    }

    /** Left against right is asked of each machine in each drive it turned in, and only of machines asked about. */
    @Test
    void aMachineNotAskedAbout_isLeftOut() {
        Asked birch = new Asked(
                analysis.trial(),
                analysis.circles(),
                analysis.machines(),
                EnumSet.of(Question.LEFT_RIGHT, Question.DRIVE),
                id -> id.equals("Birch"),
                /* verdictsOnly= */ false);
        assertThat(birch.machinesAskedAbout()).extracting(m -> m.machine().id()).containsExactly("Birch");
        assertThat(findings(birch))
                .isNotEmpty()
                .allMatch(f -> f.subject().get("machine").equals("Birch"));
        assertThat(findings(asked(EnumSet.of(Question.LEFT_RIGHT))))
                .extracting(Finding::subject)
                .containsExactly(
                        Map.of("machine", "Alder", "drive", "2WD"),
                        Map.of("machine", "Alder", "drive", "4WD"),
                        Map.of("machine", "Birch", "drive", "2WD"),
                        Map.of("machine", "Birch", "drive", "4WD"));
    }

    /** Where verdicts alone are wanted, those of some findings may be enough; else nothing is ever left out. */
    @Test
    void verdictsNobodyWants_areNotWorkedOut() {
        BiPredicate<Question, Map<String, String>> wanted = (question, subject) -> "4WD".equals(subject.get("drive"));
        Asked verdicts = with(wanted, /* verdictsOnly= */ true);
        assertThat(verdicts.leavesOut(Question.LEFT_RIGHT, Map.of("drive", "2WD")))
                .isTrue();
        assertThat(verdicts.leavesOut(Question.LEFT_RIGHT, Map.of("drive", "4WD")))
                .isFalse();
        assertThat(findings(verdicts))
                .hasSize(2)
                .allMatch(f -> f.subject().get("drive").equals("4WD"));
        Asked whole = with(wanted, /* verdictsOnly= */ false);
        assertThat(whole.leavesOut(Question.LEFT_RIGHT, Map.of("drive", "2WD"))).isFalse();
        assertThat(findings(whole)).hasSize(4);
        assertThat(asked(EnumSet.of(Question.LEFT_RIGHT)).wanted().test(Question.LEFT_RIGHT, Map.of()))
                .isTrue();
    }

    private static Asked with(BiPredicate<Question, Map<String, String>> wanted, boolean verdictsOnly) {
        return new Asked(
                analysis.trial(),
                analysis.circles(),
                analysis.machines(),
                EnumSet.of(Question.LEFT_RIGHT),
                id -> true,
                wanted,
                verdictsOnly);
    }

    @Test
    void ruleAndWords_areThoseOfTheTrial() {
        Asked asked = asked(EnumSet.allOf(Question.class));
        assertThat(asked.rule().margin()).isEqualTo(0.05);
        assertThat(asked.rule().confidence()).isEqualTo(0.95);
        assertThat(asked.wording().amount(0.05)).isEqualTo("50 mm (2.0 in)");
    }

    @Test
    void questions_areCalledByTheWordsOfResultsAndByTitles() {
        assertThat(Question.values())
                .extracting(Question::word)
                .containsExactly("leftRight", "drive", "claim", "complaint", "sideBySide", "testers");
        assertThat(Question.values())
                .extracting(Question::title)
                .containsExactly(
                        "Left against right",
                        "What 4WD costs",
                        "Claims against this trial",
                        "Complaints",
                        "Side by side",
                        "Those who measured");
    }
}
