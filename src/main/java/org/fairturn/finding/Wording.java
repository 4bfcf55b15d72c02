package org.fairturn.finding;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.BothUnits;
import org.fairturn.units.Figures;
import org.fairturn.units.LengthUnit;

/**
 * Amounts in plain sentences: the trial's unit first, the other in brackets; whole millimetres and tenths of an inch, which is
 * as fine as a tape in grass can tell, and finer where nothing would be left of an amount otherwise.
 */
public final class Wording {
    private final boolean inchFirst;

    /**
     * Wording for one trial.
     *
     * @param unit of the trial: inches stand first where it is inches or feet, else millimetres do
     */
    public Wording(LengthUnit unit) {
        inchFirst = unit.isInch();
    }

    /**
     * Such as {@code 4.1 in (105 mm)}, the sign dropped.
     *
     * @param metres of either sign
     * @return such as {@code 4.1 in (105 mm)}
     */
    public String amount(double metres) {
        return signed(Math.abs(metres));
    }

    /**
     * The same, as fine as its interval.
     *
     * @param estimate of either sign (m)
     * @return such as {@code 4.1 in (105 mm)}
     */
    public String amount(Estimate estimate) {
        return one(BothUnits.estimate(estimate.value(), estimate.halfWidth()), Math.abs(estimate.value()));
    }

    /** Such as {@code 0.17 in (4.4 mm)}, the sign dropped: as fine as a calliper tells. */
    String fine(double metres) {
        return fineSigned(Math.abs(metres));
    }

    /**
     * The same, minus signs kept.
     *
     * @param metres of either sign
     * @return such as {@code −0.17 in (−4.4 mm)}
     */
    public String fineSigned(double metres) {
        return one(BothUnits.fine(metres), metres);
    }

    /**
     * Such as {@code −4.1 in (−105 mm)}, minus signs kept.
     *
     * @param metres of either sign
     * @return such as {@code −4.1 in (−105 mm)}
     */
    public String signed(double metres) {
        return one(BothUnits.coarse(metres), metres);
    }

    /**
     * The same, as fine as its interval.
     *
     * @param estimate of either sign (m)
     * @return such as {@code −4.1 in (−105 mm)}
     */
    public String signed(Estimate estimate) {
        return signed(estimate.value(), estimate.halfWidth());
    }

    /**
     * The same, as fine as its uncertainty.
     *
     * @param metres of either sign
     * @param standardUncertainty (m), 0 or more
     * @return such as {@code −4.1 in (−105 mm)}
     */
    public String signed(double metres, double standardUncertainty) {
        return one(BothUnits.estimate(metres, standardUncertainty), metres);
    }

    /**
     * Such as {@code between −1.2 and 2.0 in (−30 and 51 mm)}.
     *
     * @param low lower end (m)
     * @param high upper end (m)
     * @return a phrase that follows an estimate
     */
    public String range(double low, double high) {
        return "between " + two(low, " and ", high);
    }

    /**
     * The interval of an estimate.
     *
     * @param estimate whose ends are shown (m)
     * @return a phrase that follows an estimate
     */
    public String range(Estimate estimate) {
        return range(estimate.low(), estimate.high());
    }

    /**
     * The same with the probability that it holds, where nothing around it says so.
     *
     * @param estimate whose ends are shown (m)
     * @return such as {@code between −1.2 and 2.0 in (−30 and 51 mm) with a probability of 95 %}
     */
    public String rangeAndLevel(Estimate estimate) {
        return range(estimate) + surely(estimate.level());
    }

    /**
     * The interval of something that cannot be below 0, such as a diameter.
     *
     * @param estimate whose ends are shown (m)
     * @return a phrase that follows an estimate
     */
    public String sizeRange(Estimate estimate) {
        return range(Math.max(0, estimate.low()), Math.max(0, estimate.high()));
    }

    /** The interval counted the way a sentence counts its amount: a "smaller by 20" lies between −10 and 50. */
    String towards(Estimate estimate) {
        return estimate.value() < 0 ? range(-estimate.high(), -estimate.low()) : range(estimate);
    }

    /**
     * Such as {@code −1.2 to 2.0 in (−30 to 51 mm)}, for tables.
     *
     * @param low lower end (m)
     * @param high upper end (m)
     * @return for the cell of a table
     */
    public String interval(double low, double high) {
        return two(low, " to ", high);
    }

    /**
     * The interval of an estimate, for tables.
     *
     * @param estimate whose ends are shown (m)
     * @return for the cell of a table
     */
    public String interval(Estimate estimate) {
        return interval(estimate.low(), estimate.high());
    }

    /**
     * The interval of something that cannot be below 0, for tables.
     *
     * @param estimate whose ends are shown (m)
     * @return for the cell of a table
     */
    public String sizeInterval(Estimate estimate) {
        return interval(Math.max(0, estimate.low()), Math.max(0, estimate.high()));
    }

    private String one(BothUnits shown, double metres) {
        return both(shown.inches(metres) + " in", shown.millimetres(metres) + " mm");
    }

    private String two(double low, String between, double high) {
        BothUnits shown = BothUnits.interval(low, high);
        return both(
                shown.inches(low) + between + shown.inches(high) + " in",
                shown.millimetres(low) + between + shown.millimetres(high) + " mm");
    }

    private String both(String in, String mm) {
        return inchFirst ? in + " (" + mm + ")" : mm + " (" + in + ")";
    }

    /**
     * {@return what all ranges have in common, for texts that do not say it with each}
     *
     * @param confidence level of the intervals, in (0, 1)
     */
    public static String ranges(double confidence) {
        return "Every range, between … and …, holds" + surely(confidence) + ".";
    }

    /** Says how sure a verdict is; its interval has two tails and may reach past the margin where the verdict needs one. */
    static String surely(double probability) {
        return " with a probability of " + percent(probability);
    }

    /** Nothing is said to be certain that a tape in the grass has shown, however the number rounds. */
    private static String percent(double probability) {
        return Figures.percent(Math.min(probability, 0.9999));
    }

    static String condition(Cell cell) {
        return cell.drive().word() + (cell.brakes() == Brakes.USED ? " with brakes" : "");
    }

    /** What would settle an open question. */
    String outlook(Outlook outlook) {
        return outlook(outlook, false);
    }

    /** The same, machines named where it is about several. */
    static String outlookOf(Outlook outlook) {
        return outlook(
                outlook,
                outlook.furtherCircles().keySet().stream()
                                .map(Cell::machine)
                                .distinct()
                                .count()
                        > 1);
    }

    /** The same for a question about several machines, which have to be named. */
    String outlookByMachine(Outlook outlook) {
        return outlook(outlook, true);
    }

    private static String outlook(Outlook outlook, boolean named) {
        if (outlook.furtherCircles().isEmpty()) {
            return unsettled(outlook);
        }
        return "With " + circles(outlook.furtherCircles(), named) + " the chance of a verdict is " + chance(outlook)
                + ".";
    }

    /** The same, something other than geometry being what circles do not make better. */
    String outlook(Outlook outlook, String fixed) {
        return hangsOnOther(outlook) ? hardly(outlook) + fixed : outlook(outlook);
    }

    /** The same for a question about several machines, which have to be named. */
    String outlookByMachine(Outlook outlook, String fixed) {
        return hangsOnOther(outlook) ? hardly(outlook) + fixed : outlookByMachine(outlook);
    }

    /** Whether something other than circles is in the way. */
    private static boolean hangsOnOther(Outlook outlook) {
        return outlook.furtherCircles().isEmpty() && outlook.obstacle() == Outlook.Obstacle.GEOMETRY;
    }

    static String hardly(Outlook outlook) {
        return "Even " + Outlook.MOST_CIRCLES + " more circles would bring a verdict with a chance of "
                + (percents(outlook) < 1 ? "" : "only ") + chance(outlook);
    }

    /** A forecast, so about so many whole percents, and never certain either way. */
    static String chance(Outlook outlook) {
        return percents(outlook) < 1 ? "under 1 %" : "about " + Figures.percent(Math.min(99, percents(outlook)) / 100);
    }

    private static double percents(Outlook outlook) {
        return Math.rint(100 * outlook.chance());
    }

    private static String unsettled(Outlook outlook) {
        return switch (outlook.obstacle()) {
            case NONE -> hardly(outlook) + ".";
            case GEOMETRY ->
                hardly(outlook)
                        + ": the rest hangs on the deck offset, the blade positions and the turn centre. Measure the blade positions and"
                        + " the deck offset more closely, and write both, and how closely, into blades.csv and"
                        + " machines.csv.";
            case NEAR_MARGIN ->
                hardly(outlook)
                        + ", because the answer seems to lie near the practical margin. Accept that it stays open, or agree on another"
                        + " margin before the next trial.";
            case UNCERTAIN_TODAY ->
                "How many more circles it takes cannot be said yet: today's figure is so uncertain that the answer may turn out"
                        + " to lie near the practical margin, and then even " + Outlook.MOST_CIRCLES
                        + " more leave it open (as it looks today, they bring a verdict with a chance of "
                        + chance(outlook)
                        + "). Drive one or two more in each of these turns and drives, and look again.";
        };
    }

    private static String circles(Map<Cell, Integer> further, boolean named) {
        List<String> parts = further.entrySet().stream()
                .map(e -> e.getValue() + " more " + (e.getValue() == 1 ? "circle " : "circles ")
                        + (named ? "of " + e.getKey().machine() + " " : "")
                        + (e.getKey().turn().word().equals("left") ? "to the left" : "to the right") + " in "
                        + condition(e.getKey()))
                .toList();
        return parts.size() == 1
                ? parts.get(0)
                : parts.stream().limit(parts.size() - 1).collect(Collectors.joining(", ")) + " and "
                        + parts.get(parts.size() - 1);
    }

    /** What is said of a verdict that leans on the assumed repeatability. */
    String assumption(boolean rests, OptionalDouble standsUpTo) {
        if (!rests) {
            return "";
        }
        return " This rests on the assumed repeatability"
                + (standsUpTo.isPresent()
                        ? "; it stands as long as circles driven alike scatter by no more than "
                                + amount(standsUpTo.getAsDouble()) + " (standard deviation)."
                        : ": too few circles were driven to show how much they scatter.");
    }
}
