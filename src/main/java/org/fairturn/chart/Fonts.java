package org.fairturn.chart;

import java.awt.AWTError;
import java.awt.font.FontRenderContext;
import java.awt.font.TextLayout;
import java.util.Optional;

/** Whether this machine can draw letters at all. */
final class Fonts {
    static final String NONE =
            "Charts were left out: this machine has no fonts Java can use. Install any font package, for example"
                    + " fontconfig and fonts-dejavu-core, and run again.";

    private Fonts() {}

    /** Why charts cannot be drawn here, in one line that says what to install; empty where they can. Asked once. */
    static Optional<String> missing() {
        return Probe.MISSING;
    }

    private static final class Probe {
        static final Optional<String> MISSING = probe();

        private static Optional<String> probe() {
            try {
                new TextLayout("m", Look.PLAIN, new FontRenderContext(null, true, true)).getAdvance();
                return Optional.empty();
            } catch (RuntimeException | LinkageError | InternalError | AWTError e) {
                // what Java throws without fonts differs between versions and between the first call and later ones
                return Optional.of(NONE);
            }
        }
    }
}
