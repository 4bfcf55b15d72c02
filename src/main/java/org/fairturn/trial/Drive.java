package org.fairturn.trial;

/** Which wheels drive: rear only, or the front axle engaged as well. */
public enum Drive {
    TWO_WHEEL("2WD"),
    FOUR_WHEEL("4WD");

    private final String word;

    Drive(String word) {
        this.word = word;
    }

    public String word() {
        return word;
    }
}
