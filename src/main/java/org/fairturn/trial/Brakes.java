package org.fairturn.trial;

/** Whether the inner steering brake was used. With brakes is a different condition (ISO 789-3) and is never converted away. */
public enum Brakes {
    /** Steering wheel alone. */
    NONE("none"),
    /** The brake of the inner rear wheel helped to turn. */
    USED("used");

    private final String word;

    Brakes(String word) {
        this.word = word;
    }

    /** {@return what circles.csv and results call it: none or used} */
    public String word() {
        return word;
    }
}
