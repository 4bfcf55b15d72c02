package org.fairturn.trial;

/** Whether the inner steering brake was used. With brakes is a different condition (ISO 789-3) and is never converted away. */
public enum Brakes {
    NONE("none"),
    USED("used");

    private final String word;

    Brakes(String word) {
        this.word = word;
    }

    public String word() {
        return word;
    }
}
