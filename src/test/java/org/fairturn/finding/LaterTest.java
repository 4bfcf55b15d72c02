package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;

class LaterTest {
    private final AtomicInteger asked = new AtomicInteger();
    private final Later<Integer> first = new Later<>(asked::incrementAndGet);
    private final Later<String> second = new Later<>(() -> "after " + asked.get());

    @Test
    void atOnce_eachIsWorkedOutOnce() {
        Later.atOnce(first, second);
        assertThat(first.get()).isEqualTo(1);
        assertThat(second.get()).isIn("after 0", "after 1");
        assertThat(asked).hasValue(1);
    }

    @Test
    void whatOneOfThemThrows_comesOut() {
        Later<Integer> broken = new Later<>(() -> {
            throw new IllegalStateException("no circle");
        });
        assertThatThrownBy(() -> Later.atOnce(first, broken))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("no circle");
    }
}
