package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ClaimPagesTest {
    private static final String PAGE = "/trial/demo/claims";

    @TempDir
    Path above;

    @BeforeEach
    void demo() {
        Served.demoBelow(above);
    }

    private static Map<String, String> claim(String name, String value) {
        Map<String, String> fields = new LinkedHashMap<>();
        fields.put("file", "claims");
        fields.put("claims.claim", name);
        fields.put("claims.who", "neighbour");
        fields.put("claims.value", value);
        fields.put("claims.quantity", "uncut diameter");
        fields.put("claims.machine", "Alder 22");
        fields.put("claims.turn", "left");
        fields.put("claims.drive", "2WD");
        return fields;
    }

    private String file(String name) throws IOException {
        return Files.readString(above.resolve("demo").resolve(name));
    }

    @Test
    void aClaim_isNoted_listed_andHeldAgainstTheCircles() throws IOException {
        try (Served served = Served.on(above)) {
            HttpResponse<String> noted = served.post(PAGE, claim("N1", "64 in"));
            assertThat(noted.statusCode()).isEqualTo(303);
            assertThat(noted.headers().firstValue("Location").orElseThrow()).isEqualTo(PAGE);
            assertThat(file("claims.csv")).contains("N1,neighbour,64 in,uncut diameter,Alder 22,left,2WD");
            assertThat(served.get(PAGE).body())
                    .contains("<strong>N1, neighbour</strong>")
                    .contains("64 in, uncut diameter, Alder 22, left turn, 2WD")
                    .contains(">64 in, uncut diameter, Alder 22<"); // nothing is said of what C1 leaves open
            assertThat(served.get("/trial/demo/findings").body()).contains("Claim N1 (neighbour)");
        }
    }

    /** Whoever has a brochure's turning radius in hand has to find it here. */
    @Test
    void everyQuantity_isExplainedBesideItsField() {
        try (Served served = Served.on(above)) {
            assertThat(served.get(PAGE).body())
                    .contains("Uncut diameter: across the grass that is left standing.")
                    .contains("Turning circle diameter: across the circle on which the outermost wheel runs")
                    .contains("Clearance circle diameter: across the circle of the machine's outermost point.")
                    .contains("Turn radius: from the turn centre to the middle of the rear axle.")
                    .contains("enter twice the figure");
            Map<String, String> loose = claim("N1", "8 ft 6 in");
            loose.put("claims.quantity", "turning radius");
            assertThat(served.post(PAGE, loose).body()).contains("A radius may be half of any of three circles");
        }
    }

    @Test
    void theOverview_saysHowManyThereAre_andLeadsThere() {
        try (Served served = Served.on(above)) {
            assertThat(served.get("/trial/demo").body())
                    .contains("<a href=\"" + PAGE + "\">")
                    .contains("5 claims");
        }
    }

    @Test
    void theFirstClaim_makesItsFile() throws IOException {
        Files.delete(above.resolve("demo/claims.csv"));
        try (Served served = Served.on(above)) {
            assertThat(served.get(PAGE).body())
                    .contains("<details open><summary>Note a claim</summary>")
                    .contains("name=\"claims.claim\" value=\"C1\"");
            assertThat(served.post(PAGE, claim("C1", "64 in")).statusCode()).isEqualTo(303);
            assertThat(file("claims.csv").lines()).hasSize(2);
            assertThat(served.get(PAGE).body()).contains("name=\"claims.claim\" value=\"C2\"");
        }
    }

    @Test
    void whatCannotBeRead_standsBesideItsField_andNothingTypedIsLost() throws IOException {
        String before = file("claims.csv");
        try (Served served = Served.on(above)) {
            HttpResponse<String> refused = served.post(PAGE, claim("C1", "64 yd"));
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body())
                    .contains("Read \"64 yd\"; accepted: a length such as ")
                    .contains("value=\"64 yd\"")
                    .contains("value=\"neighbour\"")
                    .contains("Read \"C1\"; accepted: ") // there is one of that name
                    .contains("<option value=\"Alder 22\" selected>");
            assertThat(file("claims.csv")).isEqualTo(before);
            Map<String, String> elsewhere = claim("N1", "64 in");
            elsewhere.put("file", "readings");
            assertThat(served.post(PAGE, elsewhere).statusCode()).isEqualTo(404);
        }
    }

    @Test
    void aReference_isNoted_andTheComplaintIsAmongTheFindings() throws IOException {
        try (Served served = Served.on(above)) {
            Map<String, String> fields = new LinkedHashMap<>();
            fields.put("file", "references");
            fields.put("references.machine", "Basalt 25");
            fields.put("references.known good", "Alder 22");
            assertThat(served.post(PAGE, fields).statusCode()).isEqualTo(303);
            assertThat(file("references.csv")).contains("Basalt 25,Alder 22");
            assertThat(served.get(PAGE).body()).contains("<strong>Basalt 25</strong>", "against Alder 22");
            assertThat(served.get("/trial/demo/findings").body()).contains("Basalt 25, held against Alder 22");
            fields.put("references.value", "60 in");
            HttpResponse<String> both = served.post(PAGE, fields);
            assertThat(both.statusCode()).isEqualTo(422);
            assertThat(both.body())
                    .contains("either a machine known to be good or a value, not both")
                    .contains("name=\"claims.who\" value=\"\""); // the other form stays as it was
        }
    }

    @Test
    void aRow_isChangedOnItsOwnPage_whichLeadsBack() throws IOException {
        try (Served served = Served.on(above)) {
            String row = "/trial/demo/row/claims/2";
            assertThat(served.get(PAGE).body()).contains("href=\"" + row + "\"");
            assertThat(served.get(row).body()).contains("href=\"" + PAGE + "\">Leave it</a>");
            Map<String, String> fields =
                    new LinkedHashMap<>(Fields.of(served.get(row).body()));
            fields.put("cell.who", "dealer down the road");
            HttpResponse<String> saved = served.post(row, fields);
            assertThat(saved.headers().firstValue("Location").orElseThrow()).isEqualTo(PAGE);
            assertThat(file("claims.csv")).contains("dealer down the road");
        }
    }
}
