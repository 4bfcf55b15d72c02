package org.fairturn.units;

import java.util.Optional;
import java.util.regex.Pattern;

/** Reads one length from text, a character at a time, so that a fault can point at the character it stopped at. */
final class LengthReader {
    static final String ACCEPTED = "a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or 5 ft 2 in";
    private static final String VULGAR = "½¼¾⅛⅜⅝⅞";
    private static final double[] VULGAR_VALUES = {0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875};

    /** Programs export up to 17 figures and the zeros before them; what is longer is no number anybody meant. */
    private static final int LONGEST_NUMBER = 30;

    private static final int EXACT_DIGITS = 15;

    private static final Pattern DATE = Pattern.compile(
            "([0-9]{1,4}([-/.])[0-9]{1,2}\\2[0-9]{2,4}"
                    + "|([0-9]{1,4}[-. /]{0,2})?(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6}([-. /,]{0,2}[0-9]{1,4}){0,2})"
                    + "( [0-9:. apm]*)?",
            Pattern.CASE_INSENSITIVE);

    private static final String DATE_MEND =
            "A spreadsheet seems to have made a date of it: set the column to the format Text, and type it again.";

    /** In metres. Coordinates on a national grid are lengths too and reach 10 000 km from their origin. */
    private static final double FARTHEST = 2e7;

    private final String text;
    private final LengthUnit bareUnit;
    private int at;

    LengthReader(String text, LengthUnit bareUnit) {
        this.text = text;
        this.bareUnit = bareUnit;
    }

    /** Thrown and caught inside this class only, to leave the nested steps at the first fault. */
    private static final class Stop extends Exception {
        private static final long serialVersionUID = 1L;
        private final transient Parsed.Fault fault;

        Stop(Parsed.Fault fault) {
            super(null, null, false, false);
            this.fault = fault;
        }
    }

    Parsed<Length> read() {
        try {
            return new Parsed.Read<>(length());
        } catch (Stop stop) {
            return new Parsed.Unreadable<>(stop.fault);
        }
    }

    private Length length() throws Stop {
        skipSpace();
        double sign = 1;
        if (at < text.length() && "+-−–".indexOf(text.charAt(at)) >= 0) {
            sign = text.charAt(at) == '+' ? 1 : -1;
            at++;
            skipSpace();
        }
        double first = mixedNumber();
        LengthUnit unit = unit();
        double metres = first * (unit == null ? bareUnit : unit).metres();
        skipSpace();
        if (unit == LengthUnit.FOOT && at < text.length()) {
            int start = at;
            double inches = mixedNumber();
            LengthUnit second = unit();
            if (second != null && second != LengthUnit.INCH) {
                throw stop(start, "After feet come inches.");
            }
            if (inches >= 12) {
                throw stop(start, "Inches after feet must be below 12.");
            }
            metres += inches * LengthUnit.INCH.metres();
            skipSpace();
        }
        if (at < text.length()) {
            throw stop(at, unit == null ? "" : "Nothing may follow the unit.");
        }
        if (!(Math.abs(metres) <= FARTHEST)) {
            throw stop(0, "That is longer than any field.");
        }
        return new Length(sign * metres);
    }

    /** A whole or decimal number, a fraction, or a whole number with a fraction after a space or a hyphen. */
    private double mixedNumber() throws Stop {
        double number = plainNumber();
        if (number != Math.rint(number)) {
            return number;
        }
        int back = at;
        if (at < text.length() && text.charAt(at) == '/') {
            return number / denominator();
        }
        if (at < text.length() && (text.charAt(at) == '-' || text.charAt(at) == '–')) {
            at++;
        } else {
            skipSpace();
        }
        if (at < text.length() && isDigit(text.charAt(at))) {
            double numerator = plainNumber();
            if (at < text.length() && text.charAt(at) == '/') {
                int start = at;
                double part = numerator / denominator();
                if (part >= 1) {
                    throw stop(start, "The fraction after a whole number must be below one.");
                }
                return number + part;
            }
        } else if (at < text.length() && VULGAR.indexOf(text.charAt(at)) >= 0) {
            return number + VULGAR_VALUES[VULGAR.indexOf(text.charAt(at++))];
        }
        at = back;
        return number;
    }

    private double denominator() throws Stop {
        at++;
        int start = at;
        double below = plainNumber();
        if (!(below >= 1) || below != Math.rint(below)) {
            throw stop(start, "Below the fraction bar belongs a whole number such as 8 or 16.");
        }
        return below;
    }

    private double plainNumber() throws Stop {
        if (at < text.length() && VULGAR.indexOf(text.charAt(at)) >= 0) {
            return VULGAR_VALUES[VULGAR.indexOf(text.charAt(at++))];
        }
        int start = at;
        skipDigits();
        int digits = at - start;
        if (at < text.length() && text.charAt(at) == '.') {
            at++;
            int point = at;
            skipDigits();
            digits += at - point;
        }
        if (digits == 0 || at - start > LONGEST_NUMBER) {
            throw stop(start, start == text.length() ? "A number is missing here." : "");
        }
        return digits <= EXACT_DIGITS ? exactly(start) : Double.parseDouble(text.substring(start, at));
    }

    /** So few digits and their power of ten are doubles without rounding, and a quotient of two is the nearest there is. */
    private double exactly(int start) {
        long number = 0;
        double power = 1;
        boolean decimals = false;
        for (int i = start; i < at; i++) {
            if (text.charAt(i) == '.') {
                decimals = true;
            } else {
                number = 10 * number + (text.charAt(i) - '0');
                power *= decimals ? 10 : 1;
            }
        }
        return number / power;
    }

    private void skipDigits() {
        while (at < text.length() && isDigit(text.charAt(at))) {
            at++;
        }
    }

    private LengthUnit unit() throws Stop {
        skipSpace();
        int start = at;
        while (at < text.length()
                && (Character.isLetter(text.charAt(at)) || "\"'″′”’.".indexOf(text.charAt(at)) >= 0)) {
            at++;
            if (!Character.isLetter(text.charAt(start)) && !text.startsWith("''", start)) {
                break;
            }
        }
        if (at == start) {
            return null;
        }
        Optional<LengthUnit> unit = LengthUnit.named(text.substring(start, at));
        if (unit.isEmpty()) {
            throw stop(start, "The units are mm, cm, m, in and ft.");
        }
        return unit.get();
    }

    private void skipSpace() {
        while (at < text.length() && (Character.isWhitespace(text.charAt(at)) || text.charAt(at) == '\u00a0')) {
            at++;
        }
    }

    /** What spreadsheets show where they took {@code 3/8} or {@code 3-8} for a day of the year. */
    private boolean isDate() {
        return text.length() <= LONGEST_NUMBER && DATE.matcher(text.strip()).matches();
    }

    private static boolean isDigit(char c) {
        return c >= '0' && c <= '9';
    }

    private Stop stop(int position, String mend) {
        boolean comma = position < text.length() && text.charAt(position) == ',';
        String advice = comma ? "If the comma is a decimal sign, write a point." : isDate() ? DATE_MEND : mend;
        return new Stop(new Parsed.Fault(text, position, ACCEPTED, advice));
    }
}
