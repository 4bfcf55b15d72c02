package org.fairturn.chart;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.fairturn.geometry.Deck;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/**
 * A machine seen from above, to scale, in its left and in its right turn at the same scale: the uncut disc, the turn
 * centre, the blades, and which of them cuts closest. Blades, rear axle and circles stand where the numbers put them;
 * the outline of the machine is a sketch.
 */
public final class PlanView {
    private static final int LONGEST_SLUG = 120;

    private PlanView() {}

    /**
     * A blade's tip circle.
     *
     * @param spindle its name
     * @param ahead ahead of the rear axle (m), finite
     * @param left left of the centreline (m), finite
     * @param tipRadius (m), in (0, ∞)
     */
    public record BladeDisc(String spindle, double ahead, double left, double tipRadius) {
        /**
         * Checks what it is given.
         *
         * @param spindle its name
         * @param ahead ahead of the rear axle (m), finite
         * @param left left of the centreline (m), finite
         * @param tipRadius (m), in (0, ∞)
         * @throws IllegalArgumentException if a place is not finite or the radius not above 0
         */
        public BladeDisc {
            Shown.finite(ahead, "ahead");
            Shown.finite(left, "left");
            Shown.positive(tipRadius, "tipRadius");
        }
    }

    /**
     * One full-lock turn.
     *
     * @param label such as {@code Left turn, 2WD}
     * @param turnRadius R, turn centre to the midpoint of the rear axle (m), in [0, ∞)
     * @param turnCentreShift c, how far the turn centre lies ahead of the rear axle (m), finite
     * @param uncutDiameter D (m), in [0, ∞)
     */
    public record Turning(String label, double turnRadius, double turnCentreShift, double uncutDiameter) {
        /**
         * Checks what it is given.
         *
         * @param label such as {@code Left turn, 2WD}
         * @param turnRadius R, turn centre to the midpoint of the rear axle (m), in [0, ∞)
         * @param turnCentreShift c, how far the turn centre lies ahead of the rear axle (m), finite
         * @param uncutDiameter D (m), in [0, ∞)
         * @throws IllegalArgumentException if the shift is not finite, or the radius or diameter below 0
         */
        public Turning {
            Shown.notNegative(turnRadius, "turnRadius");
            Shown.finite(turnCentreShift, "turnCentreShift");
            Shown.notNegative(uncutDiameter, "uncutDiameter");
        }
    }

    /**
     * What is drawn.
     *
     * @param machine its name
     * @param wheelbase (m), in (0, ∞), where known; without it neither outline nor front wheels are drawn
     * @param frontTrack (m), in (0, ∞), where known
     * @param blades may be empty
     * @param deckOffset lateral distance of the deck's centre from the centreline (m), + to the left, where known
     * @param left the left turn
     * @param right the right turn
     * @param shown the trial's length unit
     */
    public record Scene(
            String machine,
            OptionalDouble wheelbase,
            OptionalDouble frontTrack,
            List<BladeDisc> blades,
            OptionalDouble deckOffset,
            Turning left,
            Turning right,
            LengthUnit shown) {
        /**
         * Keeps its own copy of the list.
         *
         * @param machine its name
         * @param wheelbase (m), in (0, ∞), where known; without it neither outline nor front wheels are drawn
         * @param frontTrack (m), in (0, ∞), where known
         * @param blades may be empty
         * @param deckOffset lateral distance of the deck's centre from the centreline (m), + to the left, where known
         * @param left the left turn
         * @param right the right turn
         * @param shown the trial's length unit
         * @throws IllegalArgumentException if wheelbase or track is not above 0, or the offset not finite
         */
        public Scene {
            wheelbase.ifPresent(value -> Shown.positive(value, "wheelbase"));
            frontTrack.ifPresent(value -> Shown.positive(value, "frontTrack"));
            deckOffset.ifPresent(value -> Shown.finite(value, "deckOffset"));
            blades = List.copyOf(blades);
        }

        /** Rear wheels and outline are sketched this wide where the track is not known. */
        double track() {
            return frontTrack.orElse(0.65 * wheelbase.orElse(1.7));
        }

        /** The front end of the sketched machine, or of the deck where the wheelbase is not known (m). */
        double nose() {
            return wheelbase.isPresent()
                    ? 1.25 * wheelbase.getAsDouble()
                    : blades.stream()
                            .mapToDouble(blade -> blade.ahead() + blade.tipRadius())
                            .max()
                            .orElse(0.5);
        }

        /** The blade whose tip comes nearest to the turn centre. */
        Optional<BladeDisc> closest(Turning turning, int side) {
            return deck(turning)
                    .map(deck -> blades.get(deck.blades().indexOf(deck.closest(turning.turnRadius(), side))));
        }

        private Optional<Deck> deck(Turning turning) {
            return blades.isEmpty() ? Optional.empty() : Optional.of(PlanView.deck(blades, turning.turnCentreShift()));
        }

        /** Which blade cuts closest, and how far from the turn centre; empty where no blades are known. */
        Optional<String> cuts(Turning turning, int side) {
            return deck(turning)
                    .flatMap(deck -> closest(turning, side)
                            .map(blade -> blade.spindle()
                                    + " blade cuts closest, "
                                    + Shown.in(shown).text(deck.uncutDiameter(turning.turnRadius(), side) / 2)
                                    + " from the turn centre"));
        }
    }

    /**
     * Draws the scene; the drawing's name is {@code plan-} and the machine's name in letters fit for a file name.
     *
     * @param scene a machine with both of its turns, as far as known
     * @return seen from above, to scale
     */
    public static Drawing draw(Scene scene) {
        String name = "plan-" + slug(scene.machine());
        String title = scene.machine() + " seen from above";
        Shown shown = Shown.in(scene.shown());
        String description = String.join(
                " ",
                Stream.of(
                                scene.machine() + " seen from above, both turns at one scale.",
                                sentence(scene, scene.left(), 1, shown),
                                sentence(scene, scene.right(), -1, shown),
                                scene.deckOffset().isPresent()
                                        ? "The deck's centre lies "
                                                + offset(scene.deckOffset().getAsDouble(), shown) + "."
                                        : "",
                                "Blades, rear axle and circles are to scale; the outline of the machine is a sketch.")
                        .filter(sentence -> !sentence.isEmpty())
                        .toList());
        return new Drawing(
                name, title, description, new Sheet(scene, shown, name).svg(title, description), Optional.empty());
    }

    private static String sentence(Scene scene, Turning turning, int side, Shown shown) {
        String closest = scene.cuts(turning, side).map(cuts -> "; " + cuts).orElse("");
        return turning.label() + ": turn radius " + shown.text(turning.turnRadius()) + ", uncut disc "
                + shown.text(turning.uncutDiameter()) + " across" + closest + ".";
    }

    /** The deck that blades make, one or more. */
    static Deck deck(List<BladeDisc> blades, double turnCentreShift) {
        return new Deck(
                blades.stream()
                        .map(b -> new org.fairturn.geometry.BladeDisc(b.ahead(), b.left(), b.tipRadius()))
                        .toList(),
                turnCentreShift);
    }

    static String offset(double offset, Shown shown) {
        String amount = shown.text(Math.abs(offset));
        return offset == 0 ? "on the centreline" : amount + (offset > 0 ? " left" : " right") + " of the centreline";
    }

    /**
     * Letters and digits stay, a blank becomes a hyphen, anything else its code point, so that no two names meet; what would be
     * too long for the name of a file ends in its hash.
     */
    static String slug(String machine) {
        StringBuilder slug = new StringBuilder();
        machine.strip().toLowerCase(Locale.ROOT).codePoints().forEach(c -> {
            if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
                slug.appendCodePoint(c);
            } else {
                slug.append(c == ' ' ? "-" : "_" + Integer.toHexString(c) + "_");
            }
        });
        return slug.length() <= LONGEST_SLUG
                ? slug.toString()
                : slug.substring(0, LONGEST_SLUG / 2) + "-"
                        + UUID.nameUUIDFromBytes(machine.getBytes(StandardCharsets.UTF_8));
    }

    /** A round length of at most this size (m): 1, 2 or 5 with zeros in millimetres, whole inches or feet otherwise. */
    static double roundLength(double most, Shown shown) {
        double amount = shown.amount(most);
        double decade = Math.pow(10, Math.floor(Math.log10(amount)));
        double round = decade * (amount >= 5 * decade ? 5 : amount >= 2 * decade ? 2 : 1);
        if (shown.unit().isInch()) {
            round = DoubleStream.of(6, 12, 24, 36, 60, 120, 240, 600, 1200, 2400)
                    .filter(inches -> inches <= amount)
                    .max()
                    .orElse(round);
        }
        return Length.of(round, shown.unit()).metres();
    }

    /** {@code 1 m} would be a second unit in the drawing, so a scale bar too is in millimetres or inches. */
    static String scaleText(double metres, Shown shown) {
        double amount = shown.amount(metres);
        return shown.text(metres, amount >= 1 ? 0 : Figures.decimalsFor(amount));
    }
}
