package org.fairturn.folder;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;
import org.fairturn.trial.Blade;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.GroundPoint;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Reference;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Tyre;
import org.fairturn.units.Length;

/**
 * A short code for what a trial holds, such as {@code 7K3M-9QXT}: two reports with the same code were made from the same data.
 *
 * <p>In it is the value of every known cell of the nine files, free text among it, lengths to a billionth of a millimetre:
 * all of trial.csv (blank fields with the default they stand for), machines with blades and stops, circles with their
 * readings and points, claims and references. Not in it: how a value is written (158 cm or 1580 mm), the order of files,
 * columns and rows, blank rows, columns and files that are not known, the ids of rows entered by a program, removed.csv,
 * and the folder's name.
 *
 * <p>The code is the first 40 bits of SHA-256 (FIPS 180-4) in Crockford's base 32, which has no letters I, L, O and U. Two
 * trials have the same one by chance about once in 10¹² pairs. It shows slips and mix-ups; who forges data on purpose and
 * spends enough computing time on it can have any code.
 */
public final class DataCode {
    private static final String DIGITS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
    private static final int BITS_A_DIGIT = 5;
    private static final int LENGTH = 8;

    private DataCode() {}

    /**
     * {@return the code of a trial: four characters, a hyphen, four characters}
     *
     * @param trial without its folder's name, which the code leaves out
     */
    public static String of(Trial trial) {
        long bits = new Fingerprint().add(canonical(trial)).firstBits(LENGTH * BITS_A_DIGIT);
        StringBuilder code = new StringBuilder();
        for (int i = LENGTH - 1; i >= 0; i--) {
            code.append(DIGITS.charAt((int) ((bits >>> (i * BITS_A_DIGIT)) % DIGITS.length())));
        }
        return code.insert(LENGTH / 2, '-').toString();
    }

    private static String canonical(Trial trial) {
        return new Item()
                .add("trial", conditions(trial.conditions()))
                .add("machines", trial.machines().stream().map(DataCode::machine))
                .add("circles", trial.circles().stream().map(DataCode::circle))
                .add("claims", trial.claims().stream().map(DataCode::claim))
                .add("references", trial.references().stream().map(DataCode::reference))
                .text();
    }

    private static Item conditions(Conditions c) {
        return new Item()
                .add("title", c.title())
                .add("date", c.date())
                .add("length unit", c.lengthUnit().symbol())
                .add("place", c.place())
                .add("operator", c.operator())
                .add("surface", c.surface())
                .add("grass", c.grass())
                .add("slope", c.slope())
                .add("weather", c.weather())
                .add("tape class", c.tapeClass().map(Enum::name))
                .add("edge definition", c.edgeDefinition())
                .add("practical margin", c.practicalMargin())
                .add("confidence", c.confidence())
                .add("assumed circle repeatability", c.assumedCircleRepeatability())
                .add("assumed reading repeatability", c.assumedReadingRepeatability())
                .add("mowing speed", c.mowingSpeed().map(s -> s.metresPerSecond()))
                .add("notes", c.notes());
    }

    private static Item machine(Machine m) {
        return new Item()
                .add("machine", m.id())
                .add("label", m.label())
                .addMeasured("wheelbase", m.wheelbase())
                .addMeasured("front track", m.frontTrack())
                .add("left lock angle", m.leftLock().map(a -> a.radians()))
                .add("right lock angle", m.rightLock().map(a -> a.radians()))
                .addMeasured("deck offset", m.deckOffset())
                .addMeasured("specified deck offset", m.specifiedDeckOffset())
                .addMeasured("turn centre shift", m.turnCentreShift())
                .add("blades", m.blades().stream().map(DataCode::blade))
                .add("stops", m.stops().stream().map(DataCode::stop))
                .add("tyres", m.tyres().stream().map(DataCode::tyre));
    }

    private static Item tyre(Tyre t) {
        return new Item()
                .add(
                        t.wheel(),
                        new Item()
                                .add("size", t.size())
                                .add("specified", t.specified().map(p -> p.kilopascals()))
                                .add("found", t.found().map(p -> p.kilopascals())));
    }

    private static Item blade(Blade b) {
        return new Item()
                .add("spindle", b.spindle())
                .addMeasured("ahead", Optional.of(b.ahead()))
                .addMeasured("left", Optional.of(b.left()))
                .addMeasured("tip radius", Optional.of(b.tipRadius()));
    }

    private static Item stop(SteeringStop s) {
        return new Item()
                .add("side", s.side().word())
                .add("specified", s.specified())
                .add("found", s.found())
                .add("set", s.set())
                .add("touches axle", s.touchesAxle())
                .add("arm", s.arm())
                .add("limits", s.limits().word())
                .add("thread pitch", s.threadPitch());
    }

    private static Item circle(Circle c) {
        return new Item()
                .add("circle", c.id())
                .add("machine", c.cell().machine())
                .add("turn", c.cell().turn().word())
                .add("drive", c.cell().drive().word())
                .add("brakes", c.cell().brakes().word())
                .add("order", boxed(c.order()))
                .add("laps", boxed(c.laps()))
                .add("use", c.use())
                .add("remark", c.remark())
                .add("readings", c.readings().stream().map(DataCode::reading))
                .add("points", c.perimeter().stream().map(DataCode::point));
    }

    private static Item reading(Reading r) {
        Item item = new Item();
        for (int i = 0; i < r.tape().lengths().size(); i++) {
            item.add(TapeReader.COLUMNS.get(i), r.tape().lengths().get(i));
        }
        return item.add("kind", r.tape().kind())
                .add("bearing", r.bearing().map(b -> b.clockwise().radians()))
                .add("measurer", r.measurer())
                .add("remark", r.remark());
    }

    private static Item point(GroundPoint p) {
        return new Item().add("x", p.x()).add("y", p.y());
    }

    private static Item claim(Claim c) {
        return new Item()
                .add("claim", c.id())
                .add("who", c.who())
                .add("value", c.value())
                .add("quantity", c.quantity().word())
                .add("machine", c.machine())
                .add("turn", c.turn().map(t -> t.word()))
                .add("drive", c.drive().map(d -> d.word()))
                .add("brakes", c.brakes().map(b -> b.word()))
                .add("uncertainty", c.uncertainty())
                .add("circles behind it", boxed(c.circlesBehindIt()))
                .add("remark", c.remark());
    }

    private static Item reference(Reference r) {
        return new Item()
                .add("machine", r.machine())
                .add("known good", r.knownGood())
                .add("value", r.value())
                .add("quantity", r.quantity().word())
                .add("turn", r.turn().map(t -> t.word()))
                .add("drive", r.drive().map(d -> d.word()))
                .add("brakes", r.brakes().word())
                .add("uncertainty", r.uncertainty())
                .add("circles behind it", boxed(r.circlesBehindIt()))
                .add("source", r.source())
                .add("remark", r.remark());
    }

    private static Optional<Integer> boxed(OptionalInt number) {
        return number.isPresent() ? Optional.of(number.getAsInt()) : Optional.empty();
    }

    /**
     * Named values, in the order they are added. What is empty is left out, so that a column a later version knows changes
     * no code as long as nobody fills it. Each value is led by its length: no text can pass for the end of another.
     */
    private static final class Item {
        private final StringBuilder text = new StringBuilder();

        Item add(String name, Object value) {
            Object held = value instanceof Optional<?> optional ? optional.orElse(null) : value;
            String written = held == null ? "" : held instanceof Item item ? item.text() : written(held);
            if (!written.isEmpty()) {
                text.append(name)
                        .append('=')
                        .append(written.length())
                        .append(':')
                        .append(written)
                        .append('\n');
            }
            return this;
        }

        Item addMeasured(String name, Optional<Measured> measured) {
            return add(name, measured.map(Measured::value))
                    .add(name + " uncertainty", measured.flatMap(Measured::standardUncertainty));
        }

        /** Many of a kind, whose order says nothing. */
        Item add(String name, Stream<Item> items) {
            items.map(Item::text).sorted().forEach(one -> add(name, one));
            return this;
        }

        private static String written(Object value) {
            if (value instanceof Length length) {
                return length.toString();
            }
            return value instanceof Double number
                    ? BigDecimal.valueOf(number)
                            .setScale(12, RoundingMode.HALF_EVEN)
                            .stripTrailingZeros()
                            .toPlainString()
                    : value.toString();
        }

        String text() {
            return text.toString();
        }
    }
}
