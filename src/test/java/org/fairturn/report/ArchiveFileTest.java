package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import org.fairturn.finding.PastTrial;
import org.fairturn.folder.Problem;
import org.fairturn.trial.Drive;
import org.fairturn.uncertainty.PastScatter;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ArchiveFileTest {
    private static final List<PastTrial> ROWS = List.of(
            new PastTrial(
                    "north/meadow, lower",
                    LocalDate.of(2026, 5, 14),
                    "Alder \"22\"",
                    Drive.FOUR_WHEEL,
                    "short turf",
                    "Kit",
                    6,
                    13,
                    new PastScatter(4, 0.0009765625, 2, 7, 0.000244140625)),
            new PastTrial(
                    "west",
                    LocalDate.of(2026, 5, 15),
                    "Basalt 25",
                    Drive.TWO_WHEEL,
                    "",
                    "",
                    2,
                    2,
                    new PastScatter(0, 0, 1, 0, 0)));

    @TempDir
    Path folder;

    private ArchiveFile.Read read(String text) throws IOException {
        return ArchiveFile.read(Files.writeString(folder.resolve("repeatability.csv"), text));
    }

    private List<String> messages(String text) throws IOException {
        return read(text).problems().stream().map(Problem::message).toList();
    }

    @Test
    void whatIsWritten_readsBack() throws IOException {
        assertThat(read(ArchiveFile.write(ROWS))).isEqualTo(new ArchiveFile.Read(ROWS, List.of()));
    }

    /** As spreadsheets take them; what the program reads is the name as it was. */
    @Test
    void namesThatBeginAsAFormula_areWrittenAsTexts_andReadBackAsTheyWere() throws IOException {
        for (String name : List.of("=1+1", "+1+1", "-1+1", "@SUM(1)", "＝1+1", "'=1+1", "\t=1+1")) {
            List<PastTrial> rows = List.of(new PastTrial(
                    name,
                    LocalDate.of(2026, 5, 15),
                    name,
                    Drive.TWO_WHEEL,
                    name,
                    name,
                    2,
                    2,
                    new PastScatter(0, 0, 1, 0, 0)));
            String text = ArchiveFile.write(rows);
            String cell = "'" + name;
            assertThat(text)
                    .contains("1," + cell + ",2026-05-15," + cell + ",2WD," + cell + "," + cell + ",2,")
                    .doesNotContain("," + name);
            assertThat(read(text)).isEqualTo(new ArchiveFile.Read(rows, List.of()));
        }
    }

    @Test
    void twoFilesBelowEachOther_otherOrderOfColumns_aByteOrderMark_andFurtherColumns_areRead() throws IOException {
        String text = ArchiveFile.write(ROWS);
        assertThat(read("\uFEFF" + text + "\n" + text).rows()).containsAll(ROWS).hasSize(4);
        StringBuilder moved = new StringBuilder();
        text.lines().forEach(line -> moved.append("more,").append(line).append("\r\n"));
        assertThat(read(moved.toString())).isEqualTo(new ArchiveFile.Read(ROWS, List.of()));
    }

    @Test
    void whatCannotBeRead_isNamedWithItsPlace() throws IOException {
        String text = ArchiveFile.write(ROWS);
        assertThat(messages(text.replace("2026-05-14", "14.5.2026").replace("1,west", "2,west")))
                .containsExactly(
                        "repeatability.csv, row 2, column \"date\": read \"14.5.2026\"; accepted: a day such as 2026-05-14."
                                + " Where a spreadsheet changed it, write it as text.",
                        "repeatability.csv, row 3, column \"version\": read \"2\"; accepted: 1. Write the file again with this"
                                + " Fairturn: fairturn archive and the folder.");
        assertThat(messages(text.replace("976.5625", "\"976,5625\"").replace("2WD,,", "both,,")))
                .containsExactly(
                        "repeatability.csv, row 2, column \"circle sum of squares (mm²)\": read \"976,5625\"; accepted: a number,"
                                + " 0 or more. Write the decimal sign as a point.",
                        "repeatability.csv, row 3, column \"drive\": read \"both\"; accepted: 2WD or 4WD.");
        assertThat(messages(text.replace(",6,13,", ",6.5,NaN,")))
                .containsExactly(
                        "repeatability.csv, row 2, column \"circles\": read \"6.5\"; accepted: a whole number from 1. Write the"
                                + " decimal sign as a point.",
                        "repeatability.csv, row 2, column \"readings\": read \"NaN\"; accepted: a whole number from 1. Write the"
                                + " decimal sign as a point.");
    }

    @Test
    void somethingElse_isSaid() throws IOException {
        assertThat(messages(""))
                .containsExactly(
                        "repeatability.csv: found an empty file; accepted: a file that fairturn archive wrote. Choose another.");
        assertThat(messages(ArchiveFile.write(ROWS).replace(",drive", ",wheels")))
                .containsExactly(
                        "repeatability.csv, row 1: found no column \"drive\"; accepted: the columns that fairturn"
                                + " archive writes, separated by commas. Write the file again with fairturn archive and the folder of"
                                + " the trials.");
        Path binary = Files.write(folder.resolve("b.csv"), new byte[] {(byte) 0xff, (byte) 0xfe, 0, 65, (byte) 0xc0});
        assertThat(ArchiveFile.read(binary).problems())
                .extracting(Problem::message)
                .containsExactly(
                        "b.csv: found text that is no CSV in UTF-8; accepted: a file that fairturn archive wrote. Where"
                                + " a spreadsheet saved it, save it again as CSV UTF-8.");
    }
}
