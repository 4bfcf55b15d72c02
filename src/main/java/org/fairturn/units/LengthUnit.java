package org.fairturn.units;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** The units a length can be written in. One inch is 25.4 mm exactly (international yard and pound agreement, 1959). */
public enum LengthUnit {
    /** 0.001 m. */
    MILLIMETRE("mm", 0.001),
    /** 0.01 m. */
    CENTIMETRE("cm", 0.01),
    /** 1 m. */
    METRE("m", 1),
    /** The international inch, 0.0254 m. */
    INCH("in", 0.0254),
    /** The international foot, 0.3048 m. */
    FOOT("ft", 0.3048);

    private final String symbol;
    private final double metres;

    LengthUnit(String symbol, double metres) {
        this.symbol = symbol;
        this.metres = metres;
    }

    /** {@return how it is written behind a number: mm, cm, m, in or ft} */
    public String symbol() {
        return symbol;
    }

    /** {@return its name for several of them, such as {@code inches}} */
    public String words() {
        return switch (this) {
            case MILLIMETRE -> "millimetres";
            case CENTIMETRE -> "centimetres";
            case METRE -> "metres";
            case INCH -> "inches";
            case FOOT -> "feet";
        };
    }

    /** {@return how many metres one of this unit is} */
    public double metres() {
        return metres;
    }

    /** {@return true for inches and feet} */
    public boolean isInch() {
        return this == INCH || this == FOOT;
    }

    /**
     * The unit of that name or mark, letter case and a plural aside: {@code in}, {@code inches}, {@code "}, {@code ft},
     * {@code '}, …
     *
     * @param name as typed
     * @return empty where no unit is called so
     */
    public static Optional<LengthUnit> named(String name) {
        return switch (name.strip().toLowerCase(Locale.ROOT)) {
            case "inch", "inches", "in.", "\"", "″", "”", "''" -> Optional.of(INCH);
            case "foot", "feet", "ft.", "'", "′", "’" -> Optional.of(FOOT);
            case "metre", "metres", "meter", "meters" -> Optional.of(METRE);
            default ->
                Arrays.stream(values())
                        .filter(unit -> unit.symbol.equalsIgnoreCase(name.strip()))
                        .findFirst();
        };
    }
}
