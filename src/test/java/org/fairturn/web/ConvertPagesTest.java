package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.regex.Pattern;
import org.fairturn.report.ConversionReport;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ConvertPagesTest {
    @TempDir
    Path above;

    @BeforeEach
    void copy() {
        Served.demoBelow(above);
        Served.copy(Path.of("testdata/complaint"), above.resolve("complaint"));
    }

    private static String text(String html) {
        return html.replaceAll("<[^>]+>", " ")
                .replace("&#34;", "\"")
                .replace("&#39;", "'")
                .replace("&amp;", "&")
                .replaceAll("\\s+", " ");
    }

    @Test
    void aFigureOfATrialsMachine_isShownByEveryMeasure_withADrawingOfEachTurn() {
        try (Served served = Served.on(above)) {
            String page = served.get("/convert?trial=complaint&value=4.6+m").body();
            assertThat(text(page))
                    .contains(
                            "A turning circle diameter of 4600 mm (181.1 in) means that Cedar 24 leaves an uncut circle of ",
                            "turning circle diameter 4600 mm (181.1 in) , as stated",
                            "clearance circle diameter cannot be worked out: where the machine's outermost point lies: how far"
                                    + " ahead of the rear axle and from the centreline")
                    .containsPattern(
                            "Left turn Measure Figure uncut diameter [0-9]+ mm \\([0-9.]+ in\\) between [^;]* with a"
                                    + " probability of 95 %; standard uncertainty [0-9]+ mm")
                    .containsPattern(
                            "leaves an uncut circle of [^,]* in the left turn \\(between [^,]* with a probability of 95 %\\) and ");
            assertThat(Pattern.compile("<svg[^>]*viewBox").matcher(page).results())
                    .hasSize(2);
            assertThat(page).contains("turn-left-desc", "turn-right-desc").contains("aria-label=\"This trial\"");
        }
    }

    @Test
    void dimensionsTypedIn_doWithoutATrial() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page = served.get(
                    "/convert?value=61&quantity=turn+radius&unit=in&turn=left&blade1-ahead=33&blade1-left=2&blade1-tip=9.25"
                            + "&blade2-ahead=26&blade2-left=19.75&blade2-tip=9.25");
            assertThat(page.statusCode()).isEqualTo(200);
            assertThat(text(page.body()))
                    .contains("A turn radius of 61.0 in (1549 mm) means that this machine leaves an uncut circle of ")
                    .doesNotContain("Right turn");
        }
    }

    @Test
    void brakesAreNeverConvertedAway() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page = served.get("/convert?trial=complaint&value=4.6+m&brakes=used");
            assertThat(page.statusCode()).isEqualTo(200);
            assertThat(text(page.body()))
                    .contains(ConversionReport.NEVER_WITH_BRAKES)
                    .doesNotContain("What it means");
        }
    }

    @Test
    void severalMachines_noneIsTakenUnasked() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page = served.get("/convert?value=4.6+m");
            assertThat(page.statusCode()).isEqualTo(422);
            assertThat(text(page.body()))
                    .contains(
                            "Machine: no dimension is typed in below; accepted: one or more of them, or a machine of the"
                                    + " list.")
                    .doesNotContain("What it means");
            assertThat(text(served.get("/convert?value=4.6+m&machine=Cedar+24+%E2%80%93+complaint")
                            .body()))
                    .contains("means that Cedar 24 leaves");
        }
    }

    @Test
    void whatCannotBeRead_isNamedAtItsField() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page = served.get("/convert?value=&machine=Oak&wheelbase=0&blade1-ahead=80+cm"
                    + "&outermost-ahead=1.9+m&turn=up&quantity=diameter&unit=yd");
            assertThat(page.statusCode()).isEqualTo(422);
            assertThat(text(page.body()))
                    .contains(
                            "Figure: this is empty; accepted: a length such as 4.6 m or 15 ft 2 in.",
                            "Machine: read \"Oak\"; accepted: a machine in the list. It may have been renamed since this address"
                                    + " was made.",
                            "Wheelbase: read \"0\"; accepted: a length above 0 and up to 20 m.",
                            "Blade 1, tip radius: this is empty; accepted: a length, since the blade's others are given.",
                            "Outermost point, out: this is empty; accepted: a length, since the point's other is given.",
                            "Turn: read \"up\"; accepted: left, right.",
                            "What it is a figure of: read \"diameter\"; accepted: uncut diameter, turn radius, turning circle"
                                    + " diameter, clearance circle diameter.",
                            "Length unit: read \"yd\"; accepted: mm, cm, m, in, ft.");
        }
    }
}
