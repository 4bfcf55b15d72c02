package org.fairturn.finding;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleSupplier;
import org.fairturn.uncertainty.Estimate;

/**
 * The answer to one question about one subject.
 *
 * @param question that was asked
 * @param subject what it is about, by name: machine, drive or turn
 * @param verdict by the decision rule, for this question on its own
 * @param holdsInFamily whether a verdict still reaches the confidence once all questions of the trial are counted together
 * @param estimate the quantity asked about (m); empty where the question could not be asked
 * @param margin practical margin (m)
 * @param parts what the quantity was worked out from
 * @param standsUpTo largest circle-to-circle standard deviation (m) at which the verdict still stands; empty where there is
 *     no verdict to stand
 * @param restsOnAssumption whether its uncertainty is mostly the assumed repeatability's doing
 * @param sentence the answer in plain words
 * @param next what to do now, in plain words
 * @param robustness what would overturn the verdict; empty where there is none to overturn
 */
public record Finding(
        Question question,
        Map<String, String> subject,
        Verdict verdict,
        boolean holdsInFamily,
        Optional<Estimate> estimate,
        double margin,
        List<Part> parts,
        OptionalDouble standsUpTo,
        boolean restsOnAssumption,
        String sentence,
        String next,
        Optional<Robustness> robustness) {
    /**
     * Keeps its own copy of each list and map.
     *
     * @param question that was asked
     * @param subject what it is about, by name: machine, drive or turn
     * @param verdict by the decision rule, for this question on its own
     * @param holdsInFamily whether a verdict still reaches the confidence once all questions of the trial are counted
     *     together
     * @param estimate the quantity asked about (m); empty where the question could not be asked
     * @param margin practical margin (m)
     * @param parts what the quantity was worked out from
     * @param standsUpTo largest circle-to-circle standard deviation (m) at which the verdict still stands; empty where
     *     there is no verdict to stand
     * @param restsOnAssumption whether its uncertainty is mostly the assumed repeatability's doing
     * @param sentence the answer in plain words
     * @param next what to do now, in plain words
     * @param robustness what would overturn the verdict; empty where there is none to overturn
     */
    public Finding {
        subject = Collections.unmodifiableMap(new LinkedHashMap<>(subject));
        parts = List.copyOf(parts);
    }

    /**
     * A quantity put to the decision rule, not yet counted together with other questions nor tried.
     *
     * @param remark follows what is said of the assumed repeatability; empty where there is none
     */
    static Finding judged(
            Question question,
            Map<String, String> subject,
            Judgement judgement,
            Quantity quantity,
            DecisionRule rule,
            List<Part> parts,
            Wording wording,
            String sentence,
            String remark,
            String next) {
        boolean rests = quantity.restsOnAssumption();
        return new Finding(
                question,
                subject,
                judgement.verdict(),
                true,
                Optional.of(quantity.estimate()),
                rule.margin(),
                parts,
                judgement.standsUpTo(),
                rests,
                sentence + wording.assumption(rests, judgement.standsUpTo()) + remark,
                next,
                Optional.empty());
    }

    /** A question that cannot be asked yet. */
    static Finding notPossible(
            Question question,
            Map<String, String> subject,
            List<String> missing,
            DecisionRule rule,
            List<Part> parts,
            boolean restsOnAssumption,
            String sentence,
            String next) {
        Verdict verdict = new Verdict.NotPossible(missing);
        return new Finding(
                question,
                subject,
                verdict,
                true,
                Optional.empty(),
                rule.margin(),
                parts,
                OptionalDouble.empty(),
                restsOnAssumption,
                sentence,
                next,
                Optional.empty());
    }

    /**
     * {@return whether another finding answers the same question about the same subject; two that are compared may have
     * changed places}
     *
     * @param other of this analysis or of another
     */
    public boolean answersTheSameAs(Finding other) {
        return question == other.question
                && (subject.equals(other.subject) || reversed(subject).equals(other.subject));
    }

    /** Two that are compared may change places, and the sign of their difference with that. */
    static Map<String, String> reversed(Map<String, String> subject) {
        Map<String, String> reversed = new LinkedHashMap<>(subject);
        for (List<String> pair :
                List.of(List.of("machine", "other"), List.of("measurer", "others"), List.of("day", "otherDay"))) {
            if (subject.keySet().containsAll(pair)) {
                reversed.put(pair.get(0), subject.get(pair.get(1)));
                reversed.put(pair.get(1), subject.get(pair.get(0)));
            }
        }
        return reversed;
    }

    /**
     * Whether another finding, of the same question and subject, says the same: its verdict and its sign.
     *
     * @param other an answer to the same question about the same subject
     * @param reversed whether the other counts its quantity the other way round
     * @return whether word and sign are the same
     */
    public boolean saysTheSameAs(Finding other, boolean reversed) {
        return says(
                other.verdict.word(),
                () -> (reversed ? -1 : 1) * other.estimate.orElseThrow().value());
    }

    /**
     * Whether a verdict elsewhere is the same: its word and, where it lies beyond the margin, its side.
     *
     * @param value best estimate (m); asked for where the side counts
     */
    boolean says(String word, DoubleSupplier value) {
        return verdict.word().equals(word)
                && verdict.fold(
                        w -> true,
                        b -> Math.signum(estimate.orElseThrow().value()) == Math.signum(value.getAsDouble()),
                        c -> true,
                        n -> true);
    }

    Finding with(Robustness found) {
        return changed(holdsInFamily, sentence, next, Optional.of(found));
    }

    /**
     * The part of that name.
     *
     * @param name such as {@code measured}
     * @return empty where it has none
     */
    public Optional<Part> part(String name) {
        return parts.stream().filter(p -> p.name().equals(name)).findFirst();
    }

    /**
     * The same finding, what to do next beginning with what comes first: a stop of the machine that does not touch, before it is
     * driven again; and what the data checks ask of all readings, or of circles and readings without which it falls.
     */
    Finding mindfulOf(List<Warning> dataChecks, List<NoContact> loose) {
        String first = contactFirst(loose) + unitFirst(dataChecks) + doubtFirst(dataChecks);
        return first.isEmpty() ? this : changed(holdsInFamily, sentence, first + next, robustness);
    }

    /** What is open may send somebody out to drive. */
    private String contactFirst(List<NoContact> loose) {
        List<String> machines = loose.stream()
                .map(NoContact::machine)
                .distinct()
                .filter(m -> m.equals(subject.get("machine")) || m.equals(subject.get("other")))
                .toList();
        boolean says = subject.containsKey("stop") || next.contains("leave the machine until");
        return verdict.decided() || says || machines.isEmpty()
                ? ""
                : "Leave " + String.join(" and ", machines)
                        + " until the stop that does not touch is mended, as said above. Then: ";
    }

    private String unitFirst(List<Warning> dataChecks) {
        return estimate.isEmpty()
                ? ""
                : dataChecks.stream()
                        .filter(w ->
                                w.code().equals(Slips.WRONG_UNIT) && w.where().contains(", rows "))
                        .findFirst()
                        .map(w -> "First settle what the data checks ask of the unit in " + w.where()
                                + ": until then every figure is open. ")
                        .orElse("");
    }

    private String doubtFirst(List<Warning> dataChecks) {
        List<String> fallsWithout = robustness.map(Robustness::fallsWithout).orElse(List.of());
        List<String> doubted = dataChecks.stream()
                .map(Warning::where)
                .distinct()
                .filter(fallsWithout::contains)
                .toList();
        return doubted.isEmpty()
                ? ""
                : "First look at what the data checks say of " + String.join(" and of ", doubted) + ": without "
                        + (doubted.size() == 1 ? "it" : "one of them") + " this answer falls. ";
    }

    /** The same finding counted together with all questions, said in the sentence where its verdict does not hold then. */
    Finding inFamily(boolean holds, String allQuestions) {
        String more = holds
                ? ""
                : " Counting " + allQuestions + " together, this one alone does not reach the confidence asked for.";
        return changed(holds, sentence + more, next, robustness);
    }

    private Finding changed(boolean holds, String said, String then, Optional<Robustness> tried) {
        return new Finding(
                question,
                subject,
                verdict,
                holds,
                estimate,
                margin,
                parts,
                standsUpTo,
                restsOnAssumption,
                said,
                then,
                tried);
    }
}
