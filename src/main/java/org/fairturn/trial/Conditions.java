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
 * @param place free text, empty where not stated
 * @param operator who drove, likewise
 * @param surface what was driven on, likewise
 * @param grass its kind and height, likewise
 * @param slope of the ground, likewise
 * @param weather on the day, likewise
 * @param tapeClass accuracy class of the tape, where known
 * @param edgeDefinition how well the cut edge can be seen: half-width of the strip it may lie in, where known
 * @param practicalMargin smallest difference in uncut diameter that matters to the customer, above 0
 * @param confidence probability a verdict must reach, in (0.5, 1)
 * @param assumedCircleRepeatability scale of the prior for the circle-to-circle standard deviation, above 0
 * @param assumedReadingRepeatability scale of the prior for the reading-to-reading standard deviation, above 0
 * @param assumption where those two come from, and what stands in their place where past trials were asked
 * @param mowingSpeed how fast the grass is usually mowed, where stated; no result but mowing times hangs on it
 * @param notes anything else, likewise
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
    /** Practical margin where trial.csv states none: 50 mm of diameter. */
    public static final Length DEFAULT_PRACTICAL_MARGIN = Length.mm(50);
    /** Confidence where trial.csv states none. */
    public static final double DEFAULT_CONFIDENCE = 0.95;
    /** Scale of the prior of σ_b where trial.csv states none and no archive was asked: 50 mm. */
    public static final Length DEFAULT_CIRCLE_REPEATABILITY = Length.mm(50);
    /** Scale of the prior of σ_w where trial.csv states none and no archive was asked: 20 mm. */
    public static final Length DEFAULT_READING_REPEATABILITY = Length.mm(20);
    /** Mowing speed where none is stated. Common practice, no source. */
    public static final Speed ASSUMED_MOWING_SPEED = Speed.kilometresPerHour(5);

    /**
     * Checks what it is given.
     *
     * @param title what the trial is called
     * @param date the day it was held
     * @param lengthUnit unit of every bare number in the folder, and the unit results are shown in first
     * @param place free text, empty where not stated
     * @param operator who drove, likewise
     * @param surface what was driven on, likewise
     * @param grass its kind and height, likewise
     * @param slope of the ground, likewise
     * @param weather on the day, likewise
     * @param tapeClass accuracy class of the tape, where known
     * @param edgeDefinition how well the cut edge can be seen: half-width of the strip it may lie in, where known
     * @param practicalMargin smallest difference in uncut diameter that matters to the customer, above 0
     * @param confidence probability a verdict must reach, in (0.5, 1)
     * @param assumedCircleRepeatability scale of the prior for the circle-to-circle standard deviation, above 0
     * @param assumedReadingRepeatability scale of the prior for the reading-to-reading standard deviation, above 0
     * @param assumption where those two come from, and what stands in their place where past trials were asked
     * @param mowingSpeed how fast the grass is usually mowed, where stated; no result but mowing times hangs on it
     * @param notes anything else, likewise
     * @throws IllegalArgumentException if the confidence is not in (0.5, 1)
     */
    public Conditions {
        if (!(confidence > 0.5 && confidence < 1)) {
            throw new IllegalArgumentException("confidence is " + confidence + "; must be in (0.5, 1)");
        }
    }

    /**
     * Conditions of a trial that no archive was asked about.
     *
     * @param title what the trial is called
     * @param date the day it was held
     * @param lengthUnit unit of bare numbers, and the one shown first
     * @param place empty where not stated
     * @param operator who drove, empty where not stated
     * @param surface empty where not stated
     * @param grass empty where not stated
     * @param slope empty where not stated
     * @param weather empty where not stated
     * @param tapeClass where known
     * @param edgeDefinition half-width of the strip the cut edge may lie in, where known
     * @param practicalMargin above 0
     * @param confidence in (0.5, 1)
     * @param assumedCircleRepeatability scale of the prior of σ_b, above 0
     * @param assumedReadingRepeatability scale of the prior of σ_w, above 0
     * @param mowingSpeed where stated
     * @param notes empty where not stated
     */
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

    /**
     * {@return conditions of a trial that is to come, of which no more is agreed on yet}
     *
     * @param title what the trial is to be called
     * @param date the day it is to be held
     * @param lengthUnit unit of bare numbers, and the one shown first
     * @param practicalMargin smallest difference that matters, above 0
     * @param confidence probability a verdict must reach, in (0.5, 1)
     */
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

    /** {@return how much circles driven alike are expected to scatter: what past trials taught, or else what is assumed} */
    public Length expectedCircleScatter() {
        return assumption.circle().map(LearntScatter::median).orElse(assumedCircleRepeatability);
    }

    /** {@return how much readings of one circle are expected to scatter: what past trials taught, or else what is assumed} */
    public Length expectedReadingScatter() {
        return assumption.reading().map(LearntScatter::median).orElse(assumedReadingRepeatability);
    }

    /**
     * {@return the same conditions with both assumed repeatabilities multiplied by a factor}
     *
     * @param factor in (0, ∞)
     */
    public Conditions withAssumedRepeatability(double factor) {
        return with(
                practicalMargin,
                new Length(factor * assumedCircleRepeatability.metres()),
                new Length(factor * assumedReadingRepeatability.metres()),
                assumption.times(factor));
    }

    /**
     * {@return the same conditions with another practical margin}
     *
     * @param margin above 0
     */
    public Conditions withPracticalMargin(Length margin) {
        return with(margin, assumedCircleRepeatability, assumedReadingRepeatability, assumption);
    }

    /**
     * {@return the same conditions with a stated circle-to-circle repeatability, whatever past trials say of it}
     *
     * @param assumed scale of the prior of σ_b, above 0
     */
    public Conditions withAssumedCircleRepeatability(Length assumed) {
        return with(practicalMargin, assumed, assumedReadingRepeatability, assumption.withCircleStated());
    }

    /**
     * {@return the same conditions with the assumed repeatabilities from somewhere else}
     *
     * @param changed where they come from now
     */
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
