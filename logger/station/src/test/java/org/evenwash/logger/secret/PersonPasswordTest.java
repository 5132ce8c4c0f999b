package org.evenwash.logger.secret;

import static org.assertj.core.api.Assertions.assertThat;

import at.favre.lib.crypto.bcrypt.BCrypt;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

class PersonPasswordTest {
    private static final int CHEAP = 4;

    @Test
    void aPasswordFitsItsOwnHash_andNoOther() {
        PersonPassword passwords = new PersonPassword(CHEAP);
        String hash = passwords.hash("heather three jars of");
        assertThat(passwords.matches("heather three jars of", hash)).isTrue();
        assertThat(passwords.matches("heather three jars", hash)).isFalse();
        assertThat(passwords.matches("heather three jars of", null)).isFalse();
    }

    /** A hash that bcrypt would refuse to read is refused at once, and so would tell which names are known. */
    @Test
    void theHashForUnknownNames_isWorkedThroughLikeAnyOther() {
        for (int cost : new int[] {CHEAP, 11}) {
            byte[] nobodys = PersonPassword.nobodysHash(cost).getBytes(StandardCharsets.UTF_8);
            BCrypt.Result result =
                    BCrypt.verifyer().verify("guess".getBytes(StandardCharsets.UTF_8), nobodys);
            assertThat(result.validFormat).isTrue();
            assertThat(result.details.cost).isEqualTo(cost);
            assertThat(result.verified).isFalse();
        }
    }
}
