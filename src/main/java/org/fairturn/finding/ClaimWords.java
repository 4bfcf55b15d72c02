package org.fairturn.finding;

import java.util.List;
import java.util.OptionalDouble;
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
    /** What a claim would have to state for one reading to be left. */
    private static final String ASK =
            "Ask whoever states it which way it turned, in which drive, whether brakes were used, how it was measured, and how"
                    + " many circles stand behind it.";

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

    private String lead(Claim claim) {
        return "Claim " + name(claim) + ", " + claim.quantity().word() + " "
                + wording.amount(claim.value().metres());
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
        if (!reading.wouldDiffer().isEmpty() && (likeliest || compared(check) == 1)) {
            text.append(" For this reading to hold, one of these would have to differ: ")
                    .append(String.join("; ", reading.wouldDiffer()))
                    .append('.');
        }
        return text.toString();
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
        boolean open = compared(check) > 1;
        return verdict.fold(
                w -> open ? ASK : "Nothing to settle: the claim may be used, with turn and drive beside it.",
                b -> open
                        ? ASK
                        : "Use the measured figure. " + ASK
                                + " Have the stops of the machine it was made of held against the service manual, and whether"
                                + " they touch the axle, before anyone speaks of a wrong figure. A stop is never turned in past"
                                + " the specification to meet a claim.",
                c -> outlook(c.outlook()) + (open ? " " + ASK : ""),
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

    String against(Claim a, Claim b, Estimate q, Verdict verdict) {
        String margin = "the practical margin of " + wording.amount(rule.margin());
        return "Claims " + name(a) + " and " + name(b) + ", both "
                + a.quantity().word() + " of "
                + a.machine().orElseThrow() + ": the first is "
                + wording.amount(a.value().metres())
                + " and the second " + wording.amount(b.value().metres()) + ", a difference of "
                + wording.amount(q)
                + (a.quantity() == Claim.Quantity.TURN_RADIUS ? " across the circle" : "")
                + ", between "
                + wording.towards(q).substring("between ".length())
                + "; that "
                + verdict.<String>fold(
                        w -> "is within " + margin + Wording.surely(w.probability())
                                + ": if both mean the same turn and drive, they agree.",
                        o -> "is beyond " + margin + Wording.surely(o.probability())
                                + ": they cannot both be right of the same turn and drive.",
                        c -> "may lie on either side of " + margin
                                + ": whether they contradict each other cannot be told.",
                        n -> "");
    }

    String nextAgainst(Verdict verdict) {
        return verdict.fold(
                w -> "Nothing to settle between the two.",
                b -> "Ask both which way it turned and in which drive, and use the one that says so.",
                c -> "Ask both how many circles stand behind the figure and how it was measured.",
                n -> "");
    }
}
