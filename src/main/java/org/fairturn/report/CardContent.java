package org.fairturn.report;

import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.chart.ResultCard;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Question;
import org.fairturn.finding.Wording;
import org.fairturn.folder.DataCode;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.units.Figures;

/** What a trial's result card says: never more than its report. */
final class CardContent {
    private CardContent() {}

    static ResultCard.Content of(Analysis analysis) {
        Conditions c = analysis.trial().conditions();
        List<Circle> circles =
                analysis.trial().circles().stream().filter(Circle::use).toList();
        int readings =
                circles.stream().mapToInt(circle -> circle.readings().size()).sum();
        int points =
                circles.stream().mapToInt(circle -> circle.perimeter().size()).sum();
        String measured = Stream.of(
                        count(circles.size(), "circle"), count(readings, "tape reading"), count(points, "edge point"))
                .filter(text -> !text.startsWith("0 "))
                .collect(Collectors.joining(", "));
        String margin = new Wording(c.lengthUnit()).amount(c.practicalMargin().metres());
        return new ResultCard.Content(
                "Fairturn: uncut circles left by full-lock turns, measured by tape",
                "data " + DataCode.of(analysis.trial()),
                c.title(),
                Stream.of(c.date().toString(), c.place(), c.surface(), c.grass(), c.slope(), c.weather())
                        .filter(text -> !text.isEmpty())
                        .collect(Collectors.joining(" · ")),
                questionByQuestion(analysis).stream()
                        .map(finding -> entry(Brief.of(finding, analysis)))
                        .toList(),
                List.of(
                        Table.keepTogether(measured + " · practical margin " + margin + " · "
                                + Figures.percent(c.confidence()) + " intervals"),
                        "The service manual and a qualified technician have the last word."));
    }

    /**
     * The findings that are read first, one of each question before a second of any; of one question what has to be mended
     * comes first, then those with a verdict, otherwise the report's order holds.
     */
    private static List<Finding> questionByQuestion(Analysis analysis) {
        Map<Question, List<Finding>> byQuestion = analysis.findings().stream()
                .filter(analysis::leads)
                .sorted(Comparator.comparing((Finding f) -> !f.subject().containsKey("stop"))
                        .thenComparing(f -> !f.verdict().decided())) // a stable sort
                .collect(Collectors.groupingBy(
                        Finding::question, () -> new EnumMap<>(Question.class), Collectors.toList()));
        int most = byQuestion.values().stream().mapToInt(List::size).max().orElse(0);
        return IntStream.range(0, most)
                .boxed()
                .flatMap(i -> byQuestion.values().stream()
                        .filter(findings -> i < findings.size())
                        .map(findings -> findings.get(i)))
                .toList();
    }

    private static String count(int number, String what) {
        return number + " " + what + (number == 1 ? "" : "s");
    }

    private static ResultCard.Entry entry(Brief brief) {
        ResultCard.Tone tone = switch (brief.kind()) {
            case "within" -> ResultCard.Tone.FINE;
            case "beyond", "wider", "tighter" -> ResultCard.Tone.MATTERS;
            default -> ResultCard.Tone.OPEN;
        };
        return new ResultCard.Entry(
                tone, brief.badge(), brief.about(), brief.figure(), String.join("; ", brief.reservations()));
    }
}
