package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Machine;
import org.fairturn.uncertainty.Agreement;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;

/** What is said of claims. */
final class ClaimWords {
    /** What is said where no further circle makes the answer better. */
    static final String HANGS_ON_THE_CLAIM =
            "Further circles here would hardly settle it: most of what is open hangs on the claim itself. The more circles stand"
                    + " behind a claim, and the better its uncertainty is stated, the more it can be held to.";

    private final DecisionRule rule;
    private final Wording wording;

    ClaimWords(DecisionRule rule, Wording wording) {
        this.rule = rule;
        this.wording = wording;
    }

    /** Such as {@code left turn in 2WD}. */
    static String reading(Cell cell) {
        return cell.turn().word() + " turn in " + Wording.condition(cell);
    }

    private static String name(Claim claim) {
        return claim.id() + (claim.who().isEmpty() ? "" : " (" + claim.who() + ")");
    }

    private String figure(Claim claim) {
        return name(claim) + ", " + claim.quantity().word() + " "
                + wording.amount(claim.value().metres());
    }

    private String lead(Claim claim) {
        return "Claim " + figure(claim);
    }

    String sentence(ClaimCheck check, ClaimCheck.Reading reading, Estimate q, Verdict verdict, boolean likeliest) {
        Claim claim = check.claim();
        ClaimCheck.Comparison c = reading.comparison().orElseThrow();
        boolean convert = claim.quantity() != Claim.Quantity.UNCUT_DIAMETER;
        StringBuilder text = new StringBuilder(lead(claim))
                .append(", read as the ")
                .append(reading(reading.cell()))
                .append(" of ")
                .append(reading.cell().machine())
                .append(convert ? ", which would leave an uncut circle of " + wording.amount(c.claimed()) : "")
                .append(": ")
                .append(wording.amount(q))
                .append(q.value() < 0 ? " smaller" : " larger")
                .append(" than the ")
                .append(wording.amount(c.measured()))
                .append(" measured, ")
                .append(wording.towards(q))
                .append("; that ")
                .append(verdict(verdict, c))
                .append(" (zeta ")
                .append(Figures.fixed(c.zeta(), 1).replace('-', '−'))
                .append(", E_n ")
                .append(Figures.fixed(c.en(), 1).replace('-', '−'))
                .append(").");
        text.append(likelihood(check, reading, likeliest));
        if (likeliest || compared(check) == 1) {
            text.append(wouldDiffer(reading));
        }
        return text.toString();
    }

    private static String wouldDiffer(ClaimCheck.Reading reading) {
        boolean nothing = reading.wouldDiffer().isEmpty();
        String listed = nothing
                ? ""
                : " For this reading to hold, one of these would have to differ: "
                        + String.join("; ", reading.wouldDiffer()) + ".";
        return reading.remedy() != ClaimCheck.Remedy.NONE
                ? listed
                : listed + " No ordinary change of the machine would "
                        + (nothing ? "make this reading hold." : "do it.");
    }

    /** What is to be looked at before anyone speaks of a wrong figure. */
    private static String before(ClaimCheck.Remedy remedy) {
        return switch (remedy) {
            case STOP ->
                " Have the stops of the machine it was made of held against the service manual, and whether"
                        + " they touch the axle, before anyone speaks of a wrong figure. A stop is never turned in past"
                        + " the specification to meet a claim.";
            case DECK ->
                " Have it looked at where the deck of the machine it was made of sits, before anyone speaks of a wrong"
                        + " figure; no stop explains it.";
            case NONE ->
                " See that figure, unit and quantity stand in claims.csv as they were stated; no stop explains it.";
        };
    }

    private String verdict(Verdict verdict, ClaimCheck.Comparison c) {
        String margin = "the practical margin of " + wording.amount(rule.margin());
        return verdict.fold(
                w -> "is within " + margin + Wording.surely(w.probability()) + ": claim and trial agree",
                b -> "is beyond " + margin + Wording.surely(b.probability())
                        + ": so read, claim and trial do not agree",
                n -> "may lie on either side of " + margin + ": "
                        + (Math.abs(c.zeta()) <= Agreement.SATISFACTORY_ZETA
                                ? "so read, claim and trial do not contradict each other, but that they agree is not shown"
                                : "so read, they hardly agree, but this trial cannot tell yet"),
                n -> "");
    }

    private static long compared(ClaimCheck check) {
        return check.readings().stream().filter(r -> r.comparison().isPresent()).count();
    }

    private static String percent(double probability) {
        return Figures.percent(Math.max(0.0009, Math.min(probability, 0.9999)));
    }

    private static String likelihood(ClaimCheck check, ClaimCheck.Reading reading, boolean likeliest) {
        long compared = compared(check);
        long open = check.readings().size() - compared;
        String none = "; that none of " + (compared == 1 ? "it" : "them") + " is meant "
                + percent(check.noneOfThese())
                + (open == 0
                        ? ""
                        : " (" + open + " more " + (open == 1 ? "reading" : "readings") + " could not be compared)");
        if (compared == 1) {
            return " That this is what the claim means has a probability of " + percent(reading.probability())
                    + none.replace("that none of it is meant", "that something else is meant") + ".";
        }
        return likeliest
                ? " Of " + compared + " readings of this claim it fits best, with a probability of "
                        + percent(reading.probability()) + none + "."
                : " Of the readings of this claim it has a probability of " + percent(reading.probability()) + ".";
    }

    String next(ClaimCheck check, ClaimCheck.Reading reading, Verdict verdict) {
        Claim claim = check.claim();
        boolean open = compared(check) > 1;
        return verdict.fold(
                w -> open ? ask(claim) : "Nothing to settle: the claim may be used, with turn and drive beside it.",
                b -> open ? ask(claim) : "Use the measured figure. " + ask(claim) + before(reading.remedy()),
                c -> outlook(c.outlook()) + (open ? " " + ask(claim) : ""),
                n -> "");
    }

    private String outlook(Outlook outlook) {
        return outlook.furtherCircles().isEmpty() && outlook.obstacle() == Outlook.Obstacle.GEOMETRY
                ? HANGS_ON_THE_CLAIM
                : wording.outlook(outlook);
    }

    String notPossible(Claim claim, List<String> missing) {
        return lead(claim) + ": cannot be held against this trial yet. Missing: " + String.join("; ", missing) + ".";
    }

    /** What is missing where a figure is too small: no machine so long could turn it, or this one leaves no disc when it does. */
    String tooSmall(Length figure, Claim.Quantity quantity, Machine machine) {
        OptionalDouble smallest = CircleConversion.smallest(quantity, machine);
        return smallest.isPresent() && figure.metres() < smallest.getAsDouble()
                ? "a figure that is possible: no machine with the wheelbase and front track of " + machine.id()
                        + " has a turning circle of less than " + wording.amount(smallest.getAsDouble())
                        + ", even turning about the middle of its rear axle"
                : "a figure that leaves a disc: with these blades this one leaves none";
    }

    /** Where a figure is too small to be what it is said to be. */
    static String askWhatItIs(Claim claim) {
        return "No circle driven here can settle that. Ask whoever states it what was measured, and of which machine: so small a"
                + " figure may be a radius, or an uncut diameter."
                + (claim.quantity() == Claim.Quantity.TURNING_CIRCLE_DIAMETER
                        ? " See that wheelbase and front track in machines.csv are right, too."
                        : "");
    }

    String measure(Claim claim) {
        if (claim.quantity() == Claim.Quantity.CLEARANCE_CIRCLE_DIAMETER) {
            return "A clearance circle is drawn by the outermost point of the whole machine, guards and deck included. Measure it as"
                    + " such: at full lock mark on the ground where that point passes and lay the tape across. Engine stopped and"
                    + " key out before anyone measures.";
        }
        return claim.brakes().filter(b -> b == Brakes.USED).isPresent()
                ? "A circle driven with brakes is another condition and is never worked out from one without. Drive it with brakes,"
                        + " where the operator's manual allows that, or ask for the figure without."
                : "Measure what is missing, then compare again.";
    }

    /** What a claim leaves open, to be asked of whoever states it; what it states is not asked for. */
    private static String open(Claim claim) {
        List<String> open = new ArrayList<>();
        if (claim.machine().isEmpty()) {
            open.add("which machine it is of");
        }
        if (claim.turn().isEmpty()) {
            open.add("which way it turned");
        }
        if (claim.drive().isEmpty()) {
            open.add("in which drive");
        }
        if (claim.brakes().isEmpty()) {
            open.add("whether brakes were used");
        }
        open.add("how it was measured");
        if (claim.uncertainty().isEmpty() && claim.circlesBehindIt().isEmpty()) {
            open.add("how many circles stand behind it");
        }
        return listed(open);
    }

    private static String listed(List<String> parts) {
        int last = parts.size() - 1;
        return last == 0
                ? parts.get(0)
                : String.join(", ", parts.subList(0, last)) + (last > 1 ? "," : "") + " and " + parts.get(last);
    }

    private static String ask(Claim claim) {
        return "Ask whoever states it " + open(claim) + ".";
    }

    private static String ask(Claim a, Claim b) {
        return open(a).equals(open(b))
                ? "Ask both " + open(a) + "."
                : "Ask whoever states " + a.id() + " " + open(a) + "; and whoever states " + b.id() + " " + open(b)
                        + ".";
    }

    /** Two claims as they are put beside each other, with the difference. */
    private String beside(ClaimPairs.Pair pair, Estimate q) {
        Claim a = pair.a();
        Claim b = pair.b();
        String machine = a.machine().orElseThrow();
        String lead = !pair.converted()
                ? "Claims " + name(a) + " and " + name(b) + ", both "
                        + a.quantity().word() + " of " + machine + ": "
                : "Claims " + figure(a) + ", and " + figure(b) + ", both of " + machine + ": as uncut diameters of the "
                        + reading(pair.cell()) + (pair.leastOfSeveral() ? ", where they differ least," : "") + " ";
        return lead + "the first is " + wording.amount(pair.first())
                + " and the second " + wording.amount(pair.second()) + ", a difference of "
                + wording.amount(q)
                + (pair.acrossTheCircle() ? " across the circle" : "")
                + ", "
                + wording.towards(q);
    }

    String against(ClaimPairs.Pair pair, Estimate q, Verdict verdict) {
        String margin = "the practical margin of " + wording.amount(rule.margin());
        return beside(pair, q)
                + "; that "
                + verdict.<String>fold(
                        w -> "is within " + margin + Wording.surely(w.probability()) + ": if both mean "
                                + (pair.converted() ? "this" : "the same") + " turn and drive, they agree.",
                        o -> "is beyond " + margin + Wording.surely(o.probability())
                                + ": they cannot both be right of the same turn and drive.",
                        c -> "may lie on either side of " + margin
                                + ": whether they contradict each other cannot be told.",
                        n -> "")
                + withoutBrakes(pair);
    }

    /** Which claims were read as without brakes because they do not say, and no circle was driven with them. */
    private static String withoutBrakes(ClaimPairs.Pair pair) {
        List<String> silent = pair.claims().stream()
                .filter(c -> c.brakes().isEmpty() && !pair.open(c).contains(ClaimPairs.BRAKES))
                .map(Claim::id)
                .toList();
        boolean one = silent.size() == 1;
        return silent.isEmpty()
                ? ""
                : " " + listed(silent) + (one ? " does" : " do") + " not say whether brakes were used and "
                        + (one ? "is" : "are") + " read as without.";
    }

    /** Of the same turn and drive they would contradict each other, but one leaves open of which it is. */
    String perhapsOfOthers(ClaimPairs.Pair pair, Estimate q, Verdict verdict) {
        String open = pair.claims().stream()
                .filter(c -> !pair.open(c).isEmpty())
                .map(c -> c.id() + " leaves open " + listed(pair.open(c)))
                .collect(Collectors.joining(" and "));
        return beside(pair, q) + "; of the same turn and drive that would be beyond the practical margin of "
                + wording.amount(rule.margin()) + Wording.surely(verdict.probability()) + ". But " + open
                + ": of different ones they do not contradict each other." + withoutBrakes(pair);
    }

    /** One is of a turn with brakes, and the other, which does not say, is read as without. */
    String otherBrakes(Claim with, Claim without) {
        return "Claims " + figure(with) + ", and " + figure(without) + ", both of "
                + with.machine().orElseThrow() + ", are not held against each other: " + with.id()
                + " is of a turn with brakes; " + without.id()
                + " does not say and is read as without, as no such circle was driven with them here. That is another condition,"
                + " and one is never worked out from the other.";
    }

    /** Two measures of which one cannot be worked out from the other. */
    String otherMeasures(Claim a, Claim b, List<String> missing) {
        return "Claims " + figure(a) + ", and " + figure(b) + ", both of "
                + a.machine().orElseThrow()
                + ", are not held against each other: they are different measures, and to work out one from the other this is"
                + " missing: " + String.join("; ", missing) + ".";
    }

    static String nextAgainst(Claim a, Claim b, Verdict verdict) {
        return verdict.fold(w -> "Nothing to settle between the two.", o -> ask(a, b), c -> ask(a, b), n -> ask(a, b));
    }
}
