package org.fairturn.trial;

/** The way a machine is steered. In a left turn the turn centre lies on the left and it runs counter-clockwise seen from above. */
public enum Turn {
    /** Steered to the left, counter-clockwise seen from above. */
    LEFT("left", 1),
    /** Steered to the right, clockwise seen from above. */
    RIGHT("right", -1);

    private final String word;
    private final int sign;

    Turn(String word, int sign) {
        this.word = word;
        this.sign = sign;
    }

    /** {@return left or right} */
    public String word() {
        return word;
    }

    /** {@return the turn to the other side} */
    public Turn other() {
        return this == LEFT ? RIGHT : LEFT;
    }

    /** {@return +1 for left, −1 for right: the side the turn centre lies on, y being to the left} */
    public int sign() {
        return sign;
    }
}
