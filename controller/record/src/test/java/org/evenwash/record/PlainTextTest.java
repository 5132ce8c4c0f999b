package org.evenwash.record;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

class PlainTextTest {
    @Test
    void whatEndsALine_orCommandsATerminal_isAQuestionMark() {
        for (String unfit :
                List.of(
                        "\n", "\r", "\t", "\u001b", "\u007f", "\u0085", "\u009b", "\u2028",
                        "\u2029", "\u202e", "\u2066", "\ud83d")) {
            assertThat(PlainText.of("H1" + unfit + "[INFO]"))
                    .as("U+%04X", (int) unfit.charAt(0))
                    .isEqualTo("H1?[INFO]");
        }
    }

    /** The joiner in the last one belongs to how Persian is written. */
    @Test
    void names_stayAsTheyAre() {
        for (String name :
                List.of("", "Linden 3", "Bienenstöcke №7", "蜂群一", "🐝 hive", "می\u200cخواهم")) {
            assertThat(PlainText.of(name)).isEqualTo(name);
        }
    }
}
