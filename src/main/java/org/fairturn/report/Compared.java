package org.fairturn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Question;
import org.fairturn.finding.Wording;
import org.fairturn.uncertainty.Estimate;

/** A trial with changes that were only tried, held against the same trial as it was measured. */
final class Compared {
    private final Analysis measured;
    private final Analysis tried;
    private final Wording wording;

    Compared(Analysis measured, Analysis tried) {
        this.measured = measured;
        this.tried = tried;
        this.wording = new Wording(measured.trial().conditions().lengthUnit());
    }

    /** Every leading answer whose verdict is another with the changes; then how many stay, in a sentence. */
    List<String> sentences() {
        List<String> changed = new ArrayList<>();
        int staying = 0;
        for (Finding was : measured.findings()) {
            Optional<Finding> now = counterpart(tried, was);
            if (!measured.leads(was) && now.filter(tried::leads).isEmpty()) {
                continue;
            }
            String before = badge(was);
            String after = now.map(Compared::badge).orElse("no longer asked");
            if (!after.equals(before)) {
                changed.add(about(was) + " – was: " + before + "; with this: " + after + ".");
            } else if (now.filter(n -> !was.saysTheSameAs(n, !was.subject().equals(n.subject())))
                    .isPresent()) {
                changed.add(about(was) + " – was: " + before + "; with this the same the other way round.");
            } else {
                staying++;
            }
        }
        tried.findings().stream()
                .filter(tried::leads)
                .filter(now -> counterpart(measured, now).isEmpty())
                .forEach(now -> changed.add(about(now) + " – was: not asked; with this: " + badge(now) + "."));
        changed.add(staying(staying, changed.isEmpty()));
        return changed.stream().map(Table::keepTogether).toList();
    }

    private static String staying(int count, boolean all) {
        String verdicts = count == 1 ? "verdict stays as it is" : "verdicts stay as they are";
        return count == 0
                ? "No verdict stays as it was."
                : all
                        ? (count == 1 ? "The one " : "All " + count + " ") + verdicts + "."
                        : count + " other " + verdicts + ".";
    }

    /** Its sign stays on one line with its first word. */
    private static String badge(Finding finding) {
        return ReportView.badge(finding).replaceFirst(" ", "\u00a0");
    }

    private static Optional<Finding> counterpart(Analysis analysis, Finding finding) {
        return analysis.findings().stream().filter(finding::answersTheSameAs).findFirst();
    }

    /** What was found as measured, to stand beside an answer; empty where that is the same. */
    String was(Finding now) {
        Optional<Finding> found = counterpart(measured, now);
        if (found.isEmpty()) {
            return "As measured this was not asked.";
        }
        Finding was = found.get();
        if (now.question() == Question.COMPLAINT && !was.subject().containsKey("turn")) {
            return was.sentence().equals(now.sentence())
                    ? ""
                    : Table.keepTogether("As measured: " + badge(was) + ". " + was.sentence());
        }
        boolean turned = !was.subject().equals(now.subject());
        String before = figure(was, turned);
        if (badge(was).equals(badge(now)) && before.equals(figure(now, false))) {
            return "";
        }
        return Table.keepTogether("As measured: " + badge(was) + (before.isEmpty() ? "" : "; " + before) + ".");
    }

    private String figure(Finding finding, boolean turned) {
        return finding.estimate().map(e -> figure(e, turned ? -1 : 1)).orElse("");
    }

    private String figure(Estimate e, int sign) {
        double low = sign > 0 ? e.low() : -e.high();
        double high = sign > 0 ? e.high() : -e.low();
        return wording.signed(sign * e.value()) + ", " + wording.range(low, high);
    }

    /** The question and its subject, such as {@code What 4WD costs: Alder 22, left turn}. */
    private static String about(Finding finding) {
        Map<String, String> subject = finding.subject();
        List<String> words = new ArrayList<>();
        add(words, subject, "claim", "claim %s", name -> true);
        add(words, subject, "machine", "%s", name -> true);
        add(words, subject, "other", "against %s", name -> true);
        add(words, subject, "measurer", "%s", name -> true);
        add(words, subject, "others", "against %s", name -> true);
        add(words, subject, "reference", "held against %s", name -> true);
        add(words, subject, "stop", "%s stop", name -> true);
        if (subject.containsKey("reading")) {
            add(words, subject, "reading", "%s", name -> true);
        } else {
            add(words, subject, "turn", "%s turn", turn -> turn.equals("left") || turn.equals("right"));
            add(words, subject, "turn", "both turns", "both"::equals);
            add(words, subject, "turn", "on the whole", "all"::equals);
            add(words, subject, "drive", "%s", drive -> !drive.equals("all"));
            add(words, subject, "brakes", "brakes used", "used"::equals);
        }
        return finding.question().title() + ": " + String.join(", ", words);
    }

    private static void add(
            List<String> words, Map<String, String> subject, String name, String format, Predicate<String> said) {
        Optional.ofNullable(subject.get(name)).filter(said).ifPresent(value -> words.add(format.replace("%s", value)));
    }
}
