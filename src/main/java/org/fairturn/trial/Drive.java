package org.fairturn.trial;

/** Which wheels drive: rear only, or the front axle engaged as well. */
public enum Drive {
    /** The rear wheels alone. */
    TWO_WHEEL("2WD"),
    /** The front axle engaged as well. */
    FOUR_WHEEL("4WD");

    private final String word;

    Drive(String word) {
        this.word = word;
    }

    /** {@return 2WD or 4WD} */
    public String word() {
        return word;
    }
}
