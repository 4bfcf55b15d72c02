package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class ResultsJsonTest {
    private static void matches(double value) {
        BigDecimal slow = BigDecimal.valueOf(value).setScale(6, RoundingMode.HALF_EVEN);
        String text = ResultsJson.decimal(value);
        assertThat(new BigDecimal(text)).as("%s", value).isEqualByComparingTo(slow);
        assertThat(text).matches("-?(0|[1-9][0-9]*)(\\.[0-9]*[1-9])?").isNotEqualTo("-0");
    }

    /** The decimals library is the second route. */
    @Test
    void numbers_areRoundedToTheirSixthDecimal_andWrittenPlainly() {
        SplittableRandom random = new SplittableRandom(3);
        for (int i = 0; i < 50_000; i++) {
            matches((random.nextDouble() - 0.5) * Math.pow(10, random.nextInt(-8, 18)));
            matches(random.nextInt(-2_000_000, 2_000_000) / 1e7); // every tenth lies half way
        }
    }

    @Test
    void theEdges() {
        assertThat(ResultsJson.decimal(0)).isEqualTo("0");
        assertThat(ResultsJson.decimal(-0.0)).isEqualTo("0");
        assertThat(ResultsJson.decimal(-1e-9)).isEqualTo("0");
        assertThat(ResultsJson.decimal(1500)).isEqualTo("1500");
        assertThat(ResultsJson.decimal(-0.000001)).isEqualTo("-0.000001");
        assertThat(ResultsJson.decimal(2.0000005)).isEqualTo("2");
        assertThat(ResultsJson.decimal(2.0000015)).isEqualTo("2.000002");
        assertThat(ResultsJson.decimal(1e17)).isEqualTo("100000000000000000");
    }
}
