package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.assertj.core.data.Offset;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.uncertainty.Estimate;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Two whole trial folders against figures computed a second time, by a separate program that shares no code with this one:
 * Python 3.11.7, numpy 2.4.6, scipy 1.17.1. It reads the CSV files itself; takes sensitivities by central differences and
 * the circle through points by scipy.optimize.least_squares; sums the posterior over 1200 × 1200 points of (ln σ_b, ln σ_w)
 * between 1e-8 and 40 m, its restricted likelihood checked against full matrices of single readings; solves quantiles by
 * scipy.optimize.brentq.
 *
 * <p>All lengths in mm. Tolerance 1 µm: half a unit of the last digit given, and as much for the grid, which leaves out the
 * prior's tail beyond e⁻²⁴ of the peak (less than 1e-5 of a standard uncertainty).
 */
class RecomputedTrialsTest {
    private static final Offset<Double> MICROMETRE = within(1e-3);
    private static final Map<String, Analysis> ANALYSES = new ConcurrentHashMap<>();

    private static Analysis analysis(String folder) {
        return ANALYSES.computeIfAbsent(
                folder,
                f -> Analysis.of(TrialFolder.read(Path.of("testdata", f)).fold(TrialRead.Complete::trial, faulty -> {
                    throw new AssertionError(faulty.problems());
                })));
    }

    /** The second program knows no steering stops; what they take off the remainder has tests of its own. */
    private static Analysis withoutStops(String folder) {
        return ANALYSES.computeIfAbsent(
                folder + " without stops",
                f -> Analysis.of(Trials.withoutStops(analysis(folder).trial())));
    }

    private static void agrees(Estimate found, double... expected) {
        double[] mm = {1000 * found.value(), 1000 * found.standardUncertainty(), 1000 * found.low(), 1000 * found.high()
        };
        assertThat(mm).containsExactly(expected, MICROMETRE);
    }

    @ParameterizedTest(name = "{1}")
    @CsvSource(delimiter = '|', textBlock = """
            demo|Alder 22, left, 2WD|1612.350|15.292|1582.055|1642.633|1307.269|23.132|1261.907|1352.629
            demo|Alder 22, right, 2WD|1762.449|15.314|1731.980|1792.637|1295.551|21.071|1254.208|1336.858
            demo|Alder 22, left, 4WD|2050.877|17.177|2016.784|2084.921|1576.060|32.668|1512.019|1640.097
            demo|Alder 22, right, 4WD|2243.273|17.308|2208.971|2277.602|1580.978|29.913|1522.337|1639.620
            demo|Basalt 25, left, 2WD|1939.029|15.840|1907.753|1970.636|1501.751|21.574|1459.446|1544.098
            demo|Basalt 25, right, 2WD|2201.517|16.663|2166.731|2232.445|1651.202|19.437|1612.778|1689.055
            demo|Basalt 25, left, 4WD|2361.266|20.052|2320.771|2400.349|1752.863|31.717|1690.606|1815.005
            demo|Basalt 25, right, 4WD|2561.521|25.825|2509.925|2613.118|1858.542|30.746|1798.207|1918.877
            metric|Slate 24, left, 2WD|1813.190|25.846|1761.619|1864.760|1347.337|24.062|1300.077|1394.597
            metric|Slate 24, right, 2WD|1753.213|25.846|1701.643|1804.784|1378.165|24.395|1330.255|1426.076
            metric|Slate 24, left, 4WD|2230.561|25.847|2178.988|2282.133|1591.483|31.460|1529.753|1653.213
            metric|Slate 24, right, 4WD|2071.853|25.848|2020.281|2123.426|1566.768|33.123|1501.779|1631.756
            """)
    void cells_agree(
            String folder,
            String cell,
            double d,
            double u,
            double low,
            double high,
            double r,
            double uR,
            double lowR,
            double highR) {
        CellEstimate found = analysis(folder).cells().stream()
                .filter(c -> c.cell().toString().equals(cell))
                .findFirst()
                .orElseThrow();
        agrees(found.diameter(), d, u, low, high);
        agrees(found.turnRadius().orElseThrow(), r, uR, lowR, highR);
        assertThat(found.restsOnAssumption()).isFalse();
    }

    @ParameterizedTest(name = "{1} less {2}")
    @CsvSource(delimiter = '|', textBlock = """
            demo|Alder 22, left, 2WD|Alder 22, right, 2WD|150.100|19.280|111.460|188.401|114.329|184.623|10.0489
            demo|Alder 22, left, 4WD|Alder 22, right, 4WD|192.396|22.313|147.926|236.956|151.923|233.209|10.1745
            demo|Alder 22, left, 2WD|Alder 22, left, 4WD|438.527|20.789|397.018|479.994|400.527|476.376|9.9598
            demo|Alder 22, right, 2WD|Alder 22, right, 4WD|480.824|20.916|439.294|522.733|443.474|519.608|10.2832
            demo|Basalt 25, left, 2WD|Basalt 25, right, 2WD|262.487|20.833|218.374|301.378|216.233|297.976|5.2172
            demo|Basalt 25, left, 4WD|Basalt 25, right, 4WD|200.256|31.182|138.632|263.617|141.210|263.689|5.4402
            demo|Basalt 25, left, 2WD|Basalt 25, left, 4WD|422.236|23.601|373.981|468.439|374.018|465.314|6.0643
            demo|Basalt 25, right, 2WD|Basalt 25, right, 4WD|360.005|29.119|304.179|420.726|307.077|422.947|4.9518
            metric|Slate 24, left, 2WD|Slate 24, right, 2WD|-59.976|34.128|-128.816|8.864|-125.849|5.897|4.0000
            metric|Slate 24, left, 4WD|Slate 24, right, 4WD|-158.707|34.128|-227.547|-89.867|-224.580|-92.834|4.0000
            metric|Slate 24, left, 2WD|Slate 24, left, 4WD|417.371|34.129|348.530|486.212|351.499|483.243|4.0003
            metric|Slate 24, right, 2WD|Slate 24, right, 4WD|318.640|34.129|249.799|387.481|252.768|384.512|4.0002
            """)
    void differences_agree(
            String folder,
            String from,
            String to,
            double d,
            double u,
            double low,
            double high,
            double lowOfData,
            double highOfData,
            double degreesOfFreedom) {
        Difference found = analysis(folder).differences().stream()
                .filter(x ->
                        x.from().toString().equals(from) && x.to().toString().equals(to))
                .findFirst()
                .orElseThrow();
        agrees(found.estimate(), d, u, low, high);
        var dataOnly = found.dataOnly().orElseThrow();
        assertThat(1000 * dataOnly.estimate().low()).isCloseTo(lowOfData, MICROMETRE);
        assertThat(1000 * dataOnly.estimate().high()).isCloseTo(highOfData, MICROMETRE);
        assertThat(dataOnly.degreesOfFreedom()).isCloseTo(degreesOfFreedom, within(1e-4));
    }

    @ParameterizedTest(name = "{1}, {2}")
    @CsvSource(delimiter = '|', textBlock = """
            demo|Alder 22|2WD|-18.485|22.411|-62.932|25.716|cannotTell|0.926387|0|168.585|11.411|1307.269|1295.551|47.322|6.265
            demo|Alder 22|4WD|8.480|25.558|-42.057|59.086|cannotTell|0.940192|0|183.916|12.462|1576.060|1580.978|55.640|6.659
            demo|Basalt 25|2WD|248.409|28.362|191.261|302.792|beyond|0.999981|140.750|14.079|19.246|1501.751|1651.202|79.488|6.831
            demo|Basalt 25|4WD|185.101|36.843|112.976|258.479|beyond|0.998540|64.593|15.155|19.639|1752.863|1858.542|57.602|9.180
            metric|Slate 24|2WD|50.747|39.176|-26.880|128.374|cannotTell|0.508650|0|-110.723|19.234|1347.337|1378.165|-15.586|10.654
            metric|Slate 24|4WD|-43.137|39.413|-121.197|34.924|cannotTell|0.565109|0|-115.571|19.711|1591.483|1566.768|-43.358|10.019
            """)
    void leftAgainstRight_agrees(
            String folder,
            String machine,
            String drive,
            double remainder,
            double u,
            double low,
            double high,
            String verdict,
            double probability,
            double standsUpTo,
            double deckOffset,
            double uDeckOffset,
            double radiusLeft,
            double radiusRight,
            double equalising,
            double uEqualising) {
        Asymmetry found = withoutStops(folder).asymmetries().stream()
                .filter(a -> a.finding().subject().equals(Map.of("machine", machine, "drive", drive)))
                .findFirst()
                .orElseThrow();
        agrees(found.finding().estimate().orElseThrow(), remainder, u, low, high);
        judged(found.finding(), verdict, probability, standsUpTo);
        Part deck = found.finding().part("deckOffset").orElseThrow();
        assertThat(1000 * deck.estimate()).isCloseTo(deckOffset, MICROMETRE);
        assertThat(1000 * deck.standardUncertainty()).isCloseTo(uDeckOffset, MICROMETRE);
        Asymmetry.Geometry geometry = found.geometry().orElseThrow();
        assertThat(new double[] {
                    1000 * geometry.radiusLeft(),
                    1000 * geometry.radiusRight(),
                    1000 * geometry.equalisingOffset(),
                    1000 * geometry.equalisingUncertainty()
                })
                .containsExactly(new double[] {radiusLeft, radiusRight, equalising, uEqualising}, MICROMETRE);
    }

    @ParameterizedTest(name = "{1}, {2}")
    @CsvSource(delimiter = '|', textBlock = """
            demo|Alder 22|left|438.527|20.789|397.018|479.994|wider|1.000000|308.527
            demo|Alder 22|right|480.824|20.916|439.294|522.733|wider|1.000000|342.815
            demo|Alder 22|both|42.296|29.490|-16.327|101.345|cannotTell|0.621725|0
            demo|Basalt 25|left|422.236|23.601|373.981|468.439|wider|1.000000|245.320
            demo|Basalt 25|right|360.005|29.119|304.179|420.726|wider|0.999994|165.009
            demo|Basalt 25|both|-62.232|37.620|-133.955|16.350|cannotTell|0.653717|0
            metric|Slate 24|left|417.371|34.129|348.530|486.212|wider|0.999992|223.291
            metric|Slate 24|right|318.640|34.129|249.799|387.481|wider|0.999942|163.247
            metric|Slate 24|both|-98.731|48.265|-196.086|-1.376|cannotTell|0.878237|0
            """)
    void whatFourWheelDriveCosts_agrees(
            String folder,
            String machine,
            String turn,
            double cost,
            double u,
            double low,
            double high,
            String verdict,
            double probability,
            double standsUpTo) {
        List<Finding> found = analysis(folder).findings().stream()
                .filter(f -> f.subject().equals(Map.of("machine", machine, "turn", turn)))
                .toList();
        assertThat(found).hasSize(1);
        agrees(found.get(0).estimate().orElseThrow(), cost, u, low, high);
        judged(found.get(0), verdict, probability, standsUpTo);
    }

    /** @param standsUpTo mm, 0 where there is no verdict to stand */
    private static void judged(Finding finding, String verdict, double probability, double standsUpTo) {
        assertThat(finding.verdict().word()).isEqualTo(verdict);
        assertThat(finding.verdict().probability()).isCloseTo(probability, within(1e-6));
        assertThat(1000 * finding.standsUpTo().orElse(0)).isCloseTo(standsUpTo, MICROMETRE);
    }
}
