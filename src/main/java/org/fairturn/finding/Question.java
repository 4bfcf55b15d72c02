package org.fairturn.finding;

/** The questions a trial is asked. */
public enum Question {
    /** Is the difference between the turns more than the deck offset explains? */
    LEFT_RIGHT("leftRight", "Left against right"),
    /** What does driving the front axle cost in each turn, and does it cost both turns alike? */
    DRIVE("drive", "What 4WD costs"),
    /** Does a figure somebody states agree with what was measured? */
    CLAIM("claim", "Claims against this trial"),
    /** A machine is said to turn too wide, or too tight: what is most probably behind it? */
    COMPLAINT("complaint", "Complaints"),
    /** Which machine mows tighter, and is it its chassis or its deck? */
    SIDE_BY_SIDE("sideBySide", "Side by side"),
    /** Do those who measured read alike? */
    TESTERS("testers", "Those who measured");

    private final String word;
    private final String title;

    Question(String word, String title) {
        this.word = word;
        this.title = title;
    }

    /** {@return the name results.json gives it} */
    public String word() {
        return word;
    }

    /** {@return how it is written in a heading} */
    public String title() {
        return title;
    }
}
