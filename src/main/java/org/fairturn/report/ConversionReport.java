package org.fairturn.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.chart.Drawing;
import org.fairturn.chart.TurnView;
import org.fairturn.finding.Conversion;
import org.fairturn.finding.Wording;
import org.fairturn.trial.Claim.Quantity;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;

/** A conversion as people and programs read it. */
public final class ConversionReport {
    /** Why there is no conversion of a circle turned with brakes. */
    public static final String NEVER_WITH_BRAKES =
            "A circle turned with brakes is another thing than one without: it is never converted. Ask for the figure"
                    + " without brakes, or measure a circle with them.";

    private static final Map<Quantity, String> RINGS = rings();

    private static Map<Quantity, String> rings() {
        Map<Quantity, String> rings = new LinkedHashMap<>(); // in the order they are drawn
        rings.put(Quantity.UNCUT_DIAMETER, "uncut circle");
        rings.put(Quantity.TURNING_CIRCLE_DIAMETER, "turning circle");
        rings.put(Quantity.CLEARANCE_CIRCLE_DIAMETER, "clearance circle");
        return rings;
    }

    private ConversionReport() {}

    /**
     * A figure in words.
     *
     * @param turn left or right
     * @param quantity in words
     * @param asked whether it is the one that was converted
     * @param figure empty where it cannot be worked out
     * @param uncertainty its standard uncertainty; empty where it is taken as stated
     * @param range where it lies, and with what probability; empty likewise
     * @param missing why it cannot be worked out; empty where it can
     */
    public record Row(
            String turn,
            String quantity,
            boolean asked,
            String figure,
            String uncertainty,
            String range,
            String missing) {}

    /**
     * {@return every quantity in every turn, as a table shows them}
     *
     * @param conversion worked out
     */
    public static List<Row> table(Conversion conversion) {
        Wording wording = new Wording(conversion.given().unit());
        return conversion.rows().stream()
                .map(row -> {
                    Optional<Estimate> spread = row.figure().filter(f -> f.standardUncertainty() > 0);
                    return new Row(
                            row.turn().word(),
                            row.quantity().word(),
                            row.quantity() == conversion.given().quantity(),
                            row.figure().map(f -> wording.amount(f)).orElse(""),
                            spread.map(f -> wording.amount(f.standardUncertainty()))
                                    .orElse(""),
                            spread.map(wording::rangeAndLevel).orElse(""),
                            String.join("; ", row.missing()));
                })
                .toList();
    }

    /**
     * {@return the sentence, then a line for each figure}
     *
     * @param conversion worked out
     */
    public static List<String> lines(Conversion conversion) {
        Wording wording = new Wording(conversion.given().unit());
        List<String> lines = new ArrayList<>(List.of(conversion.sentence()));
        for (Conversion.Row row : conversion.rows()) {
            lines.add("    " + row.turn().word() + " turn, " + row.quantity().word() + ": "
                    + row.figure()
                            .map(f -> wording.amount(f)
                                    + (f.standardUncertainty() > 0 ? ", " + wording.rangeAndLevel(f) : ", as stated"))
                            .orElse("cannot be worked out: " + String.join("; ", row.missing())));
        }
        return List.copyOf(lines);
    }

    /**
     * For programs; lengths in millimetres.
     *
     * @param conversion worked out
     * @return one JSON object
     */
    public static String json(Conversion conversion) {
        return ResultsJson.conversion(conversion);
    }

    /**
     * {@return one drawing for each turn whose turn radius is known}
     *
     * @param conversion worked out
     */
    public static List<Drawing> drawings(Conversion conversion) {
        return Stream.of(Turn.values())
                .flatMap(turn -> conversion
                        .figure(Quantity.TURN_RADIUS, turn)
                        .map(radius -> TurnView.draw(scene(conversion, turn, radius)))
                        .stream())
                .toList();
    }

    private static TurnView.Scene scene(Conversion conversion, Turn turn, Estimate radius) {
        Machine machine = conversion.given().machine();
        Quantity asked = conversion.given().quantity();
        List<TurnView.Ring> rings = new ArrayList<>();
        RINGS.forEach((quantity, label) -> conversion
                .figure(quantity, turn)
                .ifPresent(f -> rings.add(
                        new TurnView.Ring(label, f.value(), quantity == Quantity.UNCUT_DIAMETER, quantity == asked))));
        return new TurnView.Scene(
                machine.id(),
                turn.word() + " turn, " + conversion.given().drive().word(),
                turn.sign(),
                radius.value(),
                asked == Quantity.TURN_RADIUS,
                machine.turnCentreShift().map(m -> m.value().metres()).orElse(0.0),
                Drawings.metres(machine.wheelbase()),
                Drawings.metres(machine.frontTrack()),
                Drawings.discs(machine),
                rings,
                conversion.given().unit());
    }
}
