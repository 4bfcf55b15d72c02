package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.fairturn.trial.Claim.Quantity;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.Quantiles;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/**
 * A figure of a machine's turn as all the figures people state for it, in each turn it may mean.
 *
 * @param given what was converted
 * @param rows every quantity in every turn, left before right
 * @param sentence what the figure would leave uncut, in plain words
 */
public record Conversion(Given given, List<Row> rows, String sentence) {
    /** Probability that an interval of a row holds, geometry and stated uncertainty counted. */
    public static final double LEVEL = 0.95;

    /**
     * Keeps its own copy of the list.
     *
     * @param given what was converted
     * @param rows every quantity in every turn, left before right
     * @param sentence what the figure would leave uncut, in plain words
     */
    public Conversion {
        rows = List.copyOf(rows);
    }

    /**
     * What is to be converted; without brakes, since a circle turned with brakes is another thing and is never converted.
     *
     * @param machine as far as its dimensions are known
     * @param outermost point of the machine, where known
     * @param quantity which diameter or radius the value is
     * @param value above 0
     * @param uncertainty standard uncertainty of the value; 0 where it is taken as it stands
     * @param turn empty where it may be either
     * @param drive that it was turned in
     * @param unit shown first
     */
    public record Given(
            Machine machine,
            Optional<OutermostPoint> outermost,
            Quantity quantity,
            Length value,
            Length uncertainty,
            Optional<Turn> turn,
            Drive drive,
            LengthUnit unit) {}

    /**
     * One figure.
     *
     * @param quantity which diameter or radius
     * @param turn of the machine
     * @param figure (m); empty where it cannot be worked out
     * @param missing why, in words; empty where it can
     */
    public record Row(Quantity quantity, Turn turn, Optional<Estimate> figure, List<String> missing) {
        /**
         * Keeps its own copy of the list.
         *
         * @param quantity which diameter or radius
         * @param turn of the machine
         * @param figure (m); empty where it cannot be worked out
         * @param missing why, in words; empty where it can
         */
        public Row {
            missing = List.copyOf(missing);
        }
    }

    /**
     * {@return every quantity in every turn, worked out from one figure}
     *
     * @param given what is stated and what is known of the machine
     */
    public static Conversion of(Given given) {
        List<Row> rows = new ArrayList<>();
        for (Turn turn : given.turn().map(List::of).orElse(List.of(Turn.values()))) {
            for (Quantity to : Quantity.values()) {
                rows.add(row(given, to, turn));
            }
        }
        return new Conversion(given, rows, sentence(given, rows));
    }

    /**
     * {@return the figure of a quantity in a turn, where it could be worked out}
     *
     * @param quantity which diameter or radius
     * @param turn of the machine
     */
    public Optional<Estimate> figure(Quantity quantity, Turn turn) {
        return rows.stream()
                .filter(row -> row.quantity() == quantity && row.turn() == turn)
                .findFirst()
                .flatMap(Row::figure);
    }

    private static Row row(Given given, Quantity to, Turn turn) {
        List<String> missing = CircleConversion.missing(given.quantity(), to, given.machine(), given.outermost());
        if (!missing.isEmpty()) {
            return new Row(to, turn, Optional.empty(), missing);
        }
        Optional<Estimate> figure = CircleConversion.of(
                        given.value().metres(),
                        given.quantity(),
                        to,
                        given.machine(),
                        given.outermost(),
                        turn,
                        given.drive())
                .map(c -> estimate(c, given.uncertainty().metres()));
        return new Row(
                to,
                turn,
                figure,
                figure.isPresent() ? List.of() : List.of("so small a figure leaves this machine no turn, or no disc"));
    }

    private static Estimate estimate(CircleConversion c, double given) {
        double u = Math.hypot(c.slope() * given, Math.sqrt(c.geometryVariance()));
        double reach = Quantiles.normal((1 + LEVEL) / 2) * u;
        return new Estimate(c.figure(), u, Math.max(0, c.figure() - reach), c.figure() + reach, LEVEL);
    }

    private static String sentence(Given given, List<Row> rows) {
        Wording wording = new Wording(given.unit());
        boolean uncut = given.quantity() == Quantity.UNCUT_DIAMETER;
        Quantity asked = uncut ? Quantity.TURN_RADIUS : Quantity.UNCUT_DIAMETER;
        List<Row> answers = rows.stream().filter(row -> row.quantity() == asked).toList();
        String of = (uncut ? "An uncut diameter" : "A " + given.quantity().word()) + " of "
                + wording.amount(given.value().metres());
        String machine = given.machine().id();
        List<Row> open = answers.stream().filter(row -> row.figure().isEmpty()).toList();
        String none = open.stream()
                .map(row -> " In the " + row.turn().word() + " turn it cannot be worked out: "
                        + String.join("; ", row.missing()) + ".")
                .collect(Collectors.joining());
        if (open.size() == answers.size()) {
            return of + ": what " + machine + (uncut ? " would turn at" : " would leave uncut") + " cannot be said."
                    + none;
        }
        return answers.stream()
                .filter(row -> row.figure().isPresent())
                .map(row -> wording.amount(row.figure().get()) + " in the "
                        + row.turn().word() + " turn ("
                        + wording.rangeAndLevel(row.figure().get()) + ")")
                .collect(Collectors.joining(
                        " and ",
                        of + " means that " + machine
                                + (uncut ? " turns at a radius of " : " leaves an uncut circle of "),
                        ", in " + given.drive().word() + " and without brakes." + none));
    }
}
