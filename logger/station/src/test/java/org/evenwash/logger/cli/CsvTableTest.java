package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.assertj.core.api.AbstractThrowableAssert;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Files as spreadsheets and people write them: read when plain, refused with advice when not. */
class CsvTableTest {
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required("mites", "mites counted"),
                    Column.required("bees", "bees in the sample"),
                    Column.optional("wash", "a name"));

    @TempDir Path folder;

    private record Wash(int mites, double bees, String name) {}

    @ParameterizedTest
    @ValueSource(
            strings = {
                "mites,bees\n2,300\n13,303.5\n",
                "mites;bees\n2;300\n13;303.5\n",
                "mites\tbees\n2\t300\n13\t303.5\n",
                "mites,bees\r\n2,300\r\n13,303.5\r\n",
                "\uFEFFmites,bees\n2,300\n13,303.5\n",
                "mites,bees\n\n2,300\n,\n\n13,303.5",
                " mites , bees \n 2 , 300 \n 13 ,303.5 \n",
                "\"mites\",\"bees\"\n\"2\",\"300\"\n13,303.5\n",
                "bees,note,mites\n300,\"wet, cold\",2\n303.5,\"two\nlines\",13\n",
                "\n\nmites,bees\n2,300\n13,303.5\n",
                "mites,bees,note,note\n2,300,a,b\n13,303.5,c,d\n"
            })
    void plainFile_isRead(String text) throws IOException {
        assertThat(washes(text)).containsExactly(new Wash(2, 300, ""), new Wash(13, 303.5, ""));
    }

    @Test
    void theirNames_areMapped() throws IOException {
        CsvTable table =
                CsvTable.of(
                        "washes.csv",
                        "Varroa count;Bees\n2;300\n",
                        null,
                        COLUMNS,
                        Map.of("mites", "Varroa count", "bees", "Bees"));

        assertThat(table.read(CsvTableTest::wash)).containsExactly(new Wash(2, 300, ""));
        assertThat(table.words()).isEqualTo("1 row of washes.csv, separated by semicolons");
    }

    @Test
    void missingColumns_areAllNamed_withWhatIsThere() {
        assertRefused("count,n\n2,300\n")
                .hasMessageContaining("there is no column \"mites\" (mites counted)")
                .hasMessageContaining("there is no column \"bees\"")
                .hasMessageContaining("The file has count, n.")
                .hasMessageContaining("--column mites=THEIRS");
    }

    @Test
    void otherCase_isNotGuessed_butOffered() {
        assertRefused("Mites,bees\n2,300\n")
                .hasMessageContaining("Did you mean Mites? Say --column mites=Mites.");
    }

    @Test
    void doubledColumn_isRefused() {
        assertRefused("mites,bees,mites\n2,300,3\n")
                .hasMessageContaining("two columns are called \"mites\"; rename one");
    }

    @Test
    void headingWithTwoSeparators_asksWhichIsMeant() {
        assertRefused("mites,bees;note\n2,300;x\n")
                .hasMessageContaining("more than one of comma, semicolon or tab")
                .hasMessageContaining("--separator");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"1,5", "1 200", "1.200.000", "1e999", "0x1F", "NaN", "Infinity", "∞", "12d"})
    void whatMightBeTwoNumbers_isNoNumber(String text) {
        assertRefused("mites;bees\n2;" + text + "\n")
                .hasMessageContaining(
                        "line 2, column bees: \"" + text + "\"; expected a number above 0");
    }

    @Test
    void decimalComma_isTurnedBackWithTheRightSpelling() {
        assertRefused("mites;bees\n2;317,4\n")
                .hasMessageContaining("write a decimal point, not a comma: 317.4");
    }

    @Test
    void unquotedDecimalComma_showsAsOneValueTooMany() {
        assertRefused("mites,bees\n2,317,4\n")
                .hasMessageContaining("line 2: 3 values under 2 headings")
                .hasMessageContaining("a number needs a decimal point");
    }

    @Test
    void badRows_areToldAtOnce_upToTwenty() {
        StringBuilder text = new StringBuilder("mites,bees\n");
        for (int i = 0; i < 25; i++) {
            text.append("few,300\n");
        }
        assertRefused(text.toString())
                .hasMessageContaining("line 21, column mites: \"few\"")
                .hasMessageNotContaining("line 22,")
                .hasMessageContaining("… and 5 more")
                .hasMessageContaining("Nothing was calculated.");
    }

    @Test
    void lineNumbers_countEmptyAndQuotedLines() {
        assertRefused("mites,bees,wash\n\n2,300,\"a\nb\"\nx,300,c\n")
                .hasMessageContaining("line 5, column mites: \"x\"");
    }

    @Test
    void openQuote_isLookedForNearItsLine() {
        assertRefused("mites,bees\n2,300\n3,\"300\n4,300\n")
                .hasMessageContaining("quotation mark that is opened and not closed");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "\n\n"})
    void emptyFile_isToldWhatComesFirst(String text) {
        assertRefused(text).hasMessageContaining("is empty: a heading");
    }

    @Test
    void headingAlone_isNotEnough() {
        assertRefused("mites,bees\n").hasMessageContaining("has a heading but no rows");
    }

    @Test
    void otherEncodings_areNamed() throws IOException {
        Path latin =
                Files.write(
                        folder.resolve("latin.csv"),
                        "mites,bees\n2,300\nä,1\n".getBytes(StandardCharsets.ISO_8859_1));
        Path wide =
                Files.write(
                        folder.resolve("wide.csv"),
                        "\uFEFFmites,bees\n".getBytes(StandardCharsets.UTF_16LE));
        Path sheet = Files.write(folder.resolve("sheet.csv"), new byte[] {'P', 'K', 3, 4, 0, 0});
        Path zeros = Files.write(folder.resolve("zeros.csv"), new byte[] {'a', '\n', 0});

        assertThatThrownBy(() -> CsvText.read(latin.toString()))
                .hasMessageContaining("line 3: a letter that is not UTF-8");
        assertThatThrownBy(() -> CsvText.read(wide.toString())).hasMessageContaining("UTF-16");
        assertThatThrownBy(() -> CsvText.read(sheet.toString()))
                .hasMessageContaining("spreadsheet");
        assertThatThrownBy(() -> CsvText.read(zeros.toString()))
                .hasMessageContaining("line 2: holds a zero byte");
    }

    @Test
    void oversizedFile_isRefusedWithoutReadingItWhole() throws IOException {
        Path file = folder.resolve("large.csv");
        Files.write(file, new byte[CsvText.MOST_BYTES + 1]);

        assertThatThrownBy(() -> CsvText.read(file.toString()))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("larger than 20 MiB");
    }

    @Test
    void tooManyRows_areRefused() {
        String text = "mites,bees\n" + "1,300\n".repeat(CsvTable.MOST_ROWS + 1);
        assertRefused(text).hasMessageContaining("more than 200000 rows");
    }

    private static List<Wash> washes(String text) throws IOException {
        Path file = Files.createTempFile("washes", ".csv");
        try {
            Files.writeString(file, text);
            return CsvTable.of("washes.csv", CsvText.read(file.toString()), null, COLUMNS, Map.of())
                    .read(CsvTableTest::wash);
        } finally {
            Files.delete(file);
        }
    }

    private static Wash wash(CsvRow row) {
        return new Wash(row.count("mites"), row.positive("bees"), row.text("wash"));
    }

    private static AbstractThrowableAssert<?, ?> assertRefused(String text) {
        return assertThatThrownBy(() -> washes(text)).isInstanceOf(BadInput.class);
    }
}
