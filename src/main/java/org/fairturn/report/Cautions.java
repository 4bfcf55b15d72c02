package org.fairturn.report;

import java.util.List;

/** What has to be said wherever someone is about to act. */
public final class Cautions {
    /** Driving, measuring, adjusting, and who has the last word. */
    public static final List<String> ALL = List.of(
            "Driving: level ground, seat belt on and ROPS up, slow at full lock, nobody within the discharge area.",
            "Before anyone measures or touches the deck: blades disengaged, brake set, engine stopped, key out.",
            "Before anyone touches a steering stop: wheels chocked, machine on rated stands, tyres at pressure.",
            "A steering stop is set to the manufacturer's dimension and must touch the axle at full lock. Where both cannot be"
                    + " had, contact comes first. A stop is never turned in past the specification to get a tighter circle:"
                    + " linkage, cylinder, tyre and hood pay for it.",
            "The service manual, local rules and a qualified technician have the last word.");

    private Cautions() {}
}
