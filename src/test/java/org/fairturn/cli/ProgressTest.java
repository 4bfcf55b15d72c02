package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class ProgressTest {
    private static final long SECOND = 1_000_000_000L;

    private final AtomicLong clock = new AtomicLong(-3 * SECOND); // such clocks start anywhere
    private final StringWriter terminal = new StringWriter();

    private Progress of(int folders) {
        return new Progress(new PrintWriter(terminal), folders, clock::get);
    }

    private void after(double seconds) {
        clock.addAndGet((long) (seconds * SECOND));
    }

    @Test
    void theLineIsWrittenOverItself_andWiped() {
        Progress progress = of(1000);
        after(0.1);
        progress.reached(2);
        after(9.9);
        progress.reached(100);
        after(80);
        progress.reached(900);
        progress.done();
        assertThat(terminal)
                .hasToString("\r100 of 1000 folders, about 90 s left" + "\r900 of 1000 folders, about 10 s left\r"
                        + " ".repeat(36) + "\r");
    }

    @Test
    void aLongTime_isToldInMinutes() {
        Progress progress = of(10_000);
        after(60);
        progress.reached(1000);
        assertThat(terminal).hasToString("\r1000 of 10000 folders, about 9 min left");
    }

    @Test
    void aShortRun_leavesTheTerminalAlone() {
        Progress progress = of(3);
        after(0.2);
        progress.reached(3);
        progress.done();
        assertThat(terminal.toString()).isEmpty();
    }
}
