package org.fairturn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Complaint;
import org.fairturn.finding.FairnessPoint;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Question;
import org.fairturn.finding.Robustness;
import org.fairturn.finding.Wording;
import org.fairturn.units.Figures;

/**
 * A finding in a line or two, never saying more than its sentence in the report does.
 *
 * @param kind as {@link ReportView.Answer#kind}, for its look
 * @param badge the verdict in a word or two
 * @param about what was asked, in words
 * @param figure the quantity with its interval, in both units; empty where there is none
 * @param reservations what weakens it, each in a few words; empty where nothing does
 * @param anchor where a page has it in full
 */
public record Brief(String kind, String badge, String about, String figure, List<String> reservations, String anchor) {
    private static final int LONGEST_RESERVATION = 100;

    /**
     * Keeps its own copy of the list.
     *
     * @param kind as {@link ReportView.Answer#kind}, for its look
     * @param badge the verdict in a word or two
     * @param about what was asked, in words
     * @param figure the quantity with its interval, in both units; empty where there is none
     * @param reservations what weakens it, each in a few words; empty where nothing does
     * @param anchor where a page has it in full
     */
    public Brief {
        reservations = List.copyOf(reservations);
    }

    static Brief of(Finding finding, Analysis analysis) {
        Wording wording = new Wording(analysis.trial().conditions().lengthUnit());
        ReportView.Answer answer =
                ReportView.answer(finding, analysis.trial().conditions().confidence(), false);
        return new Brief(
                answer.kind(),
                answer.badge(),
                about(finding, analysis),
                finding.estimate()
                        .map(e -> Table.keepTogether(wording.signed(e) + ", " + wording.range(e)))
                        .orElse(""),
                reservations(finding, analysis),
                ReportView.anchor(finding, analysis));
    }

    /** The findings that are read first, in the report's order. */
    static List<Brief> leading(Analysis analysis) {
        return analysis.findings().stream()
                .filter(analysis::leads)
                .map(f -> of(f, analysis))
                .toList();
    }

    private static String about(Finding finding, Analysis analysis) {
        Map<String, String> subject = finding.subject();
        String machine = subject.getOrDefault("machine", "");
        if (subject.containsKey("stop")) {
            return machine + ": the " + subject.get("stop") + " stop does not touch the axle at full lock";
        }
        String brakes = brakes(subject);
        return switch (finding.question()) {
            case LEFT_RIGHT ->
                machine + ", " + subject.get("drive") + brakes + ": right circle less left, what stays unexplained";
            case DRIVE ->
                subject.get("turn").equals("both")
                        ? machine + ": what 4WD costs to the right, less what it costs to the left"
                        : machine + ", " + subject.get("turn") + " turn: 4WD circle less 2WD circle";
            case CLAIM ->
                "Claim " + subject.get("claim") + ", " + (machine.isEmpty() ? "" : machine + ", ")
                        + subject.get("reading") + ": claim less "
                        + (subject.get("reading").startsWith("against claim") ? "the other claim" : "trial");
            case COMPLAINT -> complaint(finding, analysis);
            case SIDE_BY_SIDE ->
                subject.get("other") + " less " + machine + ", "
                        + (!subject.containsKey("turn")
                                ? "no turn and drive in common"
                                : subject.get("turn").equals("all")
                                        ? "mean over the turns and drives of both"
                                        : subject.get("turn") + " turn in " + subject.get("drive") + brakes);
            case TESTERS ->
                subject.containsKey("others")
                        ? subject.get("measurer") + " less " + subject.get("others") + " on the same circles"
                        : subject.get("measurer") + ": whether they read alike";
        };
    }

    private static String brakes(Map<String, String> subject) {
        return subject.containsKey("brakes") ? " with brakes" : "";
    }

    /** What is behind it is named only where its probability reaches the confidence, as in the sentence. */
    private static String complaint(Finding finding, Analysis analysis) {
        Map<String, String> subject = finding.subject();
        String against = subject.get("machine") + " against " + subject.get("reference");
        if (subject.containsKey("turn")) {
            return against + ", " + subject.get("turn") + " turn in " + subject.get("drive") + brakes(subject)
                    + ": measured less reference";
        }
        double confidence = analysis.trial().conditions().confidence();
        Optional<Complaint.Cause> first = analysis.complaints().stream()
                .filter(c -> c.subject().equals(subject))
                .flatMap(c -> c.causes().stream().limit(1))
                .findFirst();
        String cause = first.filter(c -> c.probability() >= confidence)
                .map(c -> (c.kind() == Complaint.Kind.NOTHING ? "" : "most probably ") + c.name() + " ("
                        + Figures.percent(Math.min(c.probability(), 0.9999)) + ")")
                .orElse("cannot tell yet what is behind it");
        return against + ": " + cause + "; measured less reference";
    }

    private static List<String> reservations(Finding finding, Analysis analysis) {
        List<String> reservations = new ArrayList<>();
        if (finding.restsOnAssumption()) {
            reservations.add("rests on the assumed repeatability");
        }
        if (!finding.holdsInFamily()) {
            reservations.add("not with all questions of this trial counted together");
        }
        finding.robustness().filter(r -> !robust(r)).ifPresent(r -> {
            String falls = r.sentence().replace(" Otherwise it stands.", "");
            reservations.add(
                    falls.length() <= LONGEST_RESERVATION
                            ? falls.substring(0, 1).toLowerCase(Locale.ROOT)
                                    + falls.substring(1).replaceFirst("\\.$", "")
                            : "falls if single circles, readings or assumptions are changed; the report says which");
        });
        if (finding.question() == Question.SIDE_BY_SIDE) {
            analysis.sideBySide().ifPresent(s -> {
                unmet(s.fairness(), FairnessPoint.Status.NOT_MET, "fairness, not met: ")
                        .ifPresent(reservations::add);
                unmet(s.fairness(), FairnessPoint.Status.NOT_STATED, "fairness, not stated: ")
                        .ifPresent(reservations::add);
            });
        }
        return reservations;
    }

    private static boolean robust(Robustness r) {
        return r.standsWithoutAnyCircle()
                && r.standsWithoutAnyReading()
                && r.standsWithHalvedRepeatability()
                && r.standsWithDoubledRepeatability()
                && r.standsWithDeckAtEitherEnd();
    }

    private static Optional<String> unmet(List<FairnessPoint> points, FairnessPoint.Status status, String lead) {
        String titles = points.stream()
                .filter(p -> p.status() == status)
                .map(FairnessPoint::title)
                .collect(Collectors.joining(", "));
        return titles.isEmpty() ? Optional.empty() : Optional.of(lead + titles);
    }
}
