package org.fairturn.chart;

import java.util.List;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/** Lengths as a drawing shows them: millimetres, or inches where the trial is kept in inches or feet. */
record Shown(LengthUnit unit) {
    static Shown in(LengthUnit trialUnit) {
        return new Shown(trialUnit.isInch() ? LengthUnit.INCH : LengthUnit.MILLIMETRE);
    }

    /** Decimals where no uncertainty is at hand: whole millimetres, tenths of an inch. */
    int decimals() {
        return unit.isInch() ? 1 : 0;
    }

    /** Decimals that suit a half-width (m), no finer than a tape can be read unless nothing of it would be left. */
    int decimals(double halfWidth) {
        return Figures.decimalsLeaving(
                halfWidth, unit, Math.min(decimals(), Figures.decimalsFor(halfWidth / unit.metres())));
    }

    double amount(double metres) {
        return new Length(metres).in(unit);
    }

    String text(double metres, int decimals) {
        return new Length(metres).as(unit, decimals);
    }

    String text(double metres) {
        return text(metres, Figures.decimalsLeaving(metres, unit, decimals()));
    }

    /** Two lengths sharing one unit: {@code 57.1 and 64.9 in}. */
    String pair(double low, String between, double high, int decimals) {
        return Figures.typeset(amount(low), decimals) + between + text(high, decimals);
    }

    /** A tick of an axis: where it stands (m), and its number in the unit shown. */
    record Tick(double metres, String text) {
        boolean isZero() {
            return metres == 0;
        }
    }

    /** The ticks of an axis between two lengths (m), with as many decimals as tell them apart. */
    List<Tick> ticks(double from, double to) {
        double step = tick(from, to);
        int decimals = Math.max(0, (int) Math.ceil(-Math.log10(step) - 1e-9));
        return LongStream.rangeClosed((long) Math.ceil(amount(from) / step), (long) Math.floor(amount(to) / step))
                .mapToObj(i -> new Tick(i * step * unit.metres(), Figures.typeset(i * step, decimals)))
                .toList();
    }

    /** The distance of ticks: 1, 2 or 5 with zeros, so that at most seven stand on the axis. */
    private double tick(double from, double to) {
        double least = (amount(to) - amount(from)) / 7;
        double decade = Math.pow(10, Math.floor(Math.log10(least)));
        return Stream.of(1, 2, 5, 10)
                .map(m -> m * decade)
                .filter(s -> s >= least)
                .findFirst()
                .orElse(10 * decade);
    }

    static void finite(double metres, String name) {
        if (!Double.isFinite(metres)) {
            throw new IllegalArgumentException(name + " is " + metres + " m; must be finite");
        }
    }

    static void notNegative(double metres, String name) {
        if (!(metres >= 0 && metres < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(name + " is " + metres + " m; must be in [0, ∞) m");
        }
    }

    static void positive(double metres, String name) {
        if (!(metres > 0 && metres < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(name + " is " + metres + " m; must be in (0, ∞) m");
        }
    }

    static void interval(double low, double high) {
        finite(low, "low");
        finite(high, "high");
        if (!(low <= high)) {
            throw new IllegalArgumentException("low is " + low + " m; must be in (−∞, " + high + "] m, up to high");
        }
    }
}
