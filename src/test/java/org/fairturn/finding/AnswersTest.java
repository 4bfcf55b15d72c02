package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
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

    private static Asked asked() {
        return new Asked(analysis.trial(), analysis.circles(), analysis.machines());
    }

    @Test
    void everyQuestionHasItsAnswers_inReadingOrder() {
        List<Finding> all = Answers.of(asked()).findings();
        assertThat(all.stream().map(Finding::question).distinct()).containsExactly(Question.values());
        assertThat(all.stream().map(Finding::question).toList()).isSorted();
        assertThat(all).allMatch(f -> !f.sentence().isEmpty());
    }

    /** Left against right is asked of each machine in each drive it turned in. */
    @Test
    void leftAgainstRight_isAskedInEachDrive() {
        assertThat(Answers.of(asked()).findings().stream().filter(f -> f.question() == Question.LEFT_RIGHT))
                .extracting(Finding::subject)
                .containsExactly(
                        Map.of("machine", "Alder", "drive", "2WD"),
                        Map.of("machine", "Alder", "drive", "4WD"),
                        Map.of("machine", "Birch", "drive", "2WD"),
                        Map.of("machine", "Birch", "drive", "4WD"));
    }

    /** Of the same trial every answer is the same again, though a verdict alone is looked for in a quicker way. */
    @Test
    void askedAgain_anAnswerIsTheSame() {
        for (Answer<Asked> answer : Answers.of(asked()).answers()) {
            Finding finding = answer.finding();
            Estimate estimate = finding.estimate().orElseThrow();
            Answer.Then then = answer.again().apply(asked()).orElseThrow();
            assertThat(then.word())
                    .as("%s", finding.subject())
                    .isEqualTo(finding.verdict().word());
            assertThat(then.value()).isCloseTo(estimate.value(), within(1e-9));
            // those who measured are held against each other roughly first
            assertThat(then.standardUncertainty())
                    .isCloseTo(
                            estimate.standardUncertainty(),
                            withinPercentage(finding.question() == Question.TESTERS ? 0.1 : 1e-6));
        }
    }

    @Test
    void anAnswer_hangsOnTheMachinesItIsAbout() {
        for (Answer<Asked> answer : Answers.of(asked()).answers()) {
            Map<String, String> subject = answer.finding().subject();
            assertThat(answer.machines())
                    .containsExactlyInAnyOrderElementsOf(Stream.of("machine", "other")
                            .flatMap(k -> Stream.ofNullable(subject.get(k)))
                            .toList());
        }
    }

    /** What an answer is about has to be there: with Alder's left circles in 2WD gone, five questions cannot be asked any more. */
    @Test
    void askedOfTooLittle_thereIsNoAnswer() {
        List<CircleResult> rest = analysis.circles().stream()
                .filter(c -> !c.circle().cell().equals(new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE)))
                .toList();
        List<MachineEstimate> machines = analysis.trial().machines().stream()
                .flatMap(m -> MachineEstimate.of(m, analysis.trial().conditions(), rest).stream())
                .toList();
        Asked less = new Asked(analysis.trial(), rest, machines);
        assertThat(Answers.of(asked()).answers().stream()
                        .filter(a -> a.again().apply(less).isEmpty())
                        .map(Answer::finding))
                .extracting(f -> f.question().word() + " " + f.subject().get("turn") + " "
                        + f.subject().get("drive"))
                .containsExactly(
                        "leftRight null 2WD",
                        "drive left null",
                        "drive both null",
                        "claim left 2WD",
                        "sideBySide left 2WD");
        Asked nothing = new Asked(analysis.trial(), List.of(), List.of());
        assertThat(Answers.of(asked()).answers())
                .allMatch(a -> a.again().apply(nothing).isEmpty());
    }

    @Test
    void ruleAndWords_areThoseOfTheTrial() {
        Asked asked = asked();
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
