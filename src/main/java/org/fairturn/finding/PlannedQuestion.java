package org.fairturn.finding;

import java.util.EnumSet;
import java.util.Set;

/** What a trial can be planned for. */
public enum PlannedQuestion {
    /** Left against right, the deck's part taken off. */
    LEFT_RIGHT("left-right", "Left against right"),
    /** What 4WD costs in a turn. */
    DRIVE("drive", "What 4WD costs"),
    /** A stated figure against one turn in one drive. */
    CLAIM("claim", "A claim against the trial"),
    /** Two machines on the whole, over all turns and drives. */
    SIDE_BY_SIDE("side-by-side", "Side by side"),
    /** One turn in one drive against the figure of the manual. */
    COMPLAINT("complaint", "A circle against its reference");

    private final String word;
    private final String title;

    PlannedQuestion(String word, String title) {
        this.word = word;
        this.title = title;
    }

    /**
     * {@return what is asked where nothing is said: left against right, and side by side of several machines}
     *
     * @param machines how many, 1 or more
     */
    public static Set<PlannedQuestion> usual(int machines) {
        return machines > 1 ? EnumSet.of(LEFT_RIGHT, SIDE_BY_SIDE) : EnumSet.of(LEFT_RIGHT);
    }

    /** {@return how it is written on the command line and in JSON} */
    public String word() {
        return word;
    }

    /** {@return how it is written in a heading or a choice} */
    public String title() {
        return title;
    }
}
