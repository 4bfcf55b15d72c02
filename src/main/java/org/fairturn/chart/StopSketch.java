package org.fairturn.chart;

import java.util.Optional;

/** What to measure on a steering stop: a sketch of no machine in particular, not to scale. */
public final class StopSketch {
    private static final String STOP = "#b84300";

    private StopSketch() {}

    /** {@return what {@code stops.csv} asks for, at one wheel seen from above: protrusion, arm and contact} */
    public static Drawing draw() {
        String title = "What to measure on a steering stop";
        String description =
                "A front wheel at full lock, seen from above. The stop is screwed into the steering knuckle and"
                        + " touches the axle at full lock. P: how far it protrudes from the face it is screwed into. M: arm, from"
                        + " the king-pin axis square to the line of the stop. C: contact, where stop and axle touch.";
        SvgText out = new SvgText();
        out.drawing("stop", title, description, 480, 330, 15);
        out.paper(480, 330);
        // axle beam, from the middle of the machine on the left to the king-pin
        out.leaf("rect x=16 y=96 width=250 height=34 rx=4 fill=#e4e9ee stroke={} stroke-width=1.6", SvgText.QUIET);
        out.holding("axle", "text x=30 y=119 fill={}", SvgText.QUIET);
        // knuckle arm below the axle, its stop pointing up at it
        out.leaf(
                "path d={} fill=#d3dbe3 stroke={} stroke-width=1.6",
                "M252 112L292 112L292 196L170 196L170 176L252 176Z",
                SvgText.INK);
        out.holding("steering knuckle", "text x=176 y=216");
        out.leaf("rect x=184 y=132 width=18 height=44 fill={}", STOP);
        out.leaf("circle cx=272 cy=112 r=11 fill=#ffffff stroke={} stroke-width=2.4", SvgText.INK);
        out.leaf("circle cx=272 cy=112 r=2.5 fill={}", SvgText.INK);
        // wheel
        out.leaf(
                "rect x=394 y=24 width=52 height=190 rx=10 fill=#e4e9ee stroke={} stroke-width=1.6 transform={}",
                SvgText.QUIET,
                "rotate(38 420 119)");
        out.leaf("path d={} stroke={} stroke-width=1.6 fill=none", "M292 119L388 119", SvgText.QUIET);
        out.holding("king-pin axis", "text x=286 y=92");
        dimension(out, "M150 132V176M144 132H182M144 176H170", "P", 130, 160);
        dimension(out, "M193 62H272M193 56V130M272 56V98", "M", 232, 56);
        out.holding("C", "text x=207 y=146 font-weight=bold fill={}", STOP);
        String[] key = {
            "P protrusion: specified, as found, as set",
            "M arm: king-pin axis to the line of the stop",
            "C contact: does it touch the axle at full lock?"
        };
        for (int i = 0; i < key.length; i++) {
            out.holding(key[i], "text x=16 y={}", 262.0 + 24 * i);
        }
        return new Drawing("stop", title, description, out.close("svg").toString(), Optional.empty());
    }

    private static void dimension(SvgText out, String path, String letter, double x, double y) {
        out.leaf("path d={} stroke={} stroke-width=1.2 fill=none", path, SvgText.INK);
        out.holding(letter, "text x={} y={} font-weight=bold text-anchor=middle", x, y);
    }
}
