package org.fairturn.trial;

import java.time.LocalDate;
import java.util.Optional;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.fairturn.units.Speed;

/**
 * Where, when and how a trial was held, and what its analysis is asked to assume.
 *
 * @param title what the trial is called
 * @param date the day it was held
 * @param lengthUnit unit of every bare number in the folder, and the unit results are shown in first
 * @param place free text, empty where not stated; so are operator, surface, grass, slope, weather and notes
 * @param tapeClass accuracy class of the tape, where known
 * @param edgeDefinition how well the cut edge can be seen: half-width of the strip it may lie in, where known
 * @param practicalMargin smallest difference in uncut diameter that matters to the customer, above 0
 * @param confidence probability a verdict must reach, in (0.5, 1)
 * @param assumedCircleRepeatability scale of the prior for the circle-to-circle standard deviation, above 0
 * @param assumedReadingRepeatability scale of the prior for the reading-to-reading standard deviation, above 0
 * @param assumption where those two come from, and what stands in their place where past trials were asked
 * @param mowingSpeed how fast the grass is usually mowed, where stated; no result but mowing times hangs on it
 */
public record Conditions(
        String title,
        LocalDate date,
        LengthUnit lengthUnit,
        String place,
        String operator,
        String surface,
        String grass,
        String slope,
        String weather,
        Optional<TapeClass> tapeClass,
        Optional<Length> edgeDefinition,
        Length practicalMargin,
        double confidence,
        Length assumedCircleRepeatability,
        Length assumedReadingRepeatability,
        Assumption assumption,
        Optional<Speed> mowingSpeed,
        String notes) {
    public static final Length DEFAULT_PRACTICAL_MARGIN = Length.mm(50);
    public static final double DEFAULT_CONFIDENCE = 0.95;
    public static final Length DEFAULT_CIRCLE_REPEATABILITY = Length.mm(50);
    public static final Length DEFAULT_READING_REPEATABILITY = Length.mm(20);
    /** Mowing speed where none is stated. Common practice, no source. */
    public static final Speed ASSUMED_MOWING_SPEED = Speed.kilometresPerHour(5);

    public Conditions {
        if (!(confidence > 0.5 && confidence < 1)) {
            throw new IllegalArgumentException("confidence is " + confidence + "; must be in (0.5, 1)");
        }
    }

    /** Conditions of a trial that no archive was asked about. */
    public Conditions(
            String title,
            LocalDate date,
            LengthUnit lengthUnit,
            String place,
            String operator,
            String surface,
            String grass,
            String slope,
            String weather,
            Optional<TapeClass> tapeClass,
            Optional<Length> edgeDefinition,
            Length practicalMargin,
            double confidence,
            Length assumedCircleRepeatability,
            Length assumedReadingRepeatability,
            Optional<Speed> mowingSpeed,
            String notes) {
        this(
                title,
                date,
                lengthUnit,
                place,
                operator,
                surface,
                grass,
                slope,
                weather,
                tapeClass,
                edgeDefinition,
                practicalMargin,
                confidence,
                assumedCircleRepeatability,
                assumedReadingRepeatability,
                Assumption.USUAL,
                mowingSpeed,
                notes);
    }

    /** Conditions of a trial that is to come, of which no more is agreed on yet. */
    public static Conditions planned(
            String title, LocalDate date, LengthUnit lengthUnit, Length practicalMargin, double confidence) {
        return new Conditions(
                title,
                date,
                lengthUnit,
                "",
                "",
                "",
                "",
                "",
                "",
                Optional.empty(),
                Optional.empty(),
                practicalMargin,
                confidence,
                DEFAULT_CIRCLE_REPEATABILITY,
                DEFAULT_READING_REPEATABILITY,
                Optional.empty(),
                "");
    }

    /** How much circles driven alike are expected to scatter: what past trials taught, or else what is assumed. */
    public Length expectedCircleScatter() {
        return assumption.circle().map(LearntScatter::median).orElse(assumedCircleRepeatability);
    }

    /** The same of readings of one circle. */
    public Length expectedReadingScatter() {
        return assumption.reading().map(LearntScatter::median).orElse(assumedReadingRepeatability);
    }

    /** The same conditions with both assumed repeatabilities multiplied by a factor. */
    public Conditions withAssumedRepeatability(double factor) {
        return with(
                practicalMargin,
                new Length(factor * assumedCircleRepeatability.metres()),
                new Length(factor * assumedReadingRepeatability.metres()),
                assumption.times(factor));
    }

    public Conditions withPracticalMargin(Length margin) {
        return with(margin, assumedCircleRepeatability, assumedReadingRepeatability, assumption);
    }

    /** The same conditions with a stated circle-to-circle repeatability, whatever past trials say of it. */
    public Conditions withAssumedCircleRepeatability(Length assumed) {
        return with(practicalMargin, assumed, assumedReadingRepeatability, assumption.withCircleStated());
    }

    /** The same conditions with the assumed repeatabilities from somewhere else. */
    public Conditions withAssumption(Assumption changed) {
        return with(practicalMargin, assumedCircleRepeatability, assumedReadingRepeatability, changed);
    }

    private Conditions with(Length margin, Length circleRepeatability, Length readingRepeatability, Assumption from) {
        return new Conditions(
                title,
                date,
                lengthUnit,
                place,
                operator,
                surface,
                grass,
                slope,
                weather,
                tapeClass,
                edgeDefinition,
                margin,
                confidence,
                circleRepeatability,
                readingRepeatability,
                from,
                mowingSpeed,
                notes);
    }
}
