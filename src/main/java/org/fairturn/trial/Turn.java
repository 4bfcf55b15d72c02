package org.fairturn.trial;

/** The way a machine is steered. In a left turn the turn centre lies on the left and it runs counter-clockwise seen from above. */
public enum Turn {
    LEFT("left", 1),
    RIGHT("right", -1);

    private final String word;
    private final int sign;

    Turn(String word, int sign) {
        this.word = word;
        this.sign = sign;
    }

    public String word() {
        return word;
    }

    public Turn other() {
        return this == LEFT ? RIGHT : LEFT;
    }

    /** +1 for left, −1 for right: the side the turn centre lies on, y being to the left. */
    public int sign() {
        return sign;
    }
}
