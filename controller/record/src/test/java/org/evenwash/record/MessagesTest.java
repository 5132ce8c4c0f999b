package org.evenwash.record;

import static java.nio.charset.StandardCharsets.UTF_16LE;
import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.time.Instant;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class MessagesTest {

    static List<Message> samples() {
        return Samples.all();
    }

    @ParameterizedTest
    @MethodSource("samples")
    void everyKind_comesBackAsItWasWritten(Message message) throws UnreadableMessage {
        assertThat(Messages.read(Messages.write(message), message.getClass())).isEqualTo(message);
    }

    @Test
    void lastWill_comesBackAsItWasWritten() throws UnreadableMessage {
        BenchState will = BenchState.offline("shed-1", true);
        assertThat(Messages.read(Messages.write(will), BenchState.class)).isEqualTo(will);
    }

    @Test
    void unknownField_isIgnored() throws UnreadableMessage {
        String json = json(Samples.receipt()).replaceFirst("\\{", "{\"colour\":\"blue\",");
        assertThat(Messages.read(json.getBytes(UTF_8), Receipt.class)).isEqualTo(Samples.receipt());
    }

    @Test
    void laterMinorVersion_isRead() throws UnreadableMessage {
        String json = json(Samples.receipt()).replace("receipt/1.0", "receipt/1.7");
        assertThat(Messages.read(json.getBytes(UTF_8), Receipt.class).schema())
                .isEqualTo("receipt/1.7");
    }

    @Test
    void unknownMajorVersion_saysWhichIsKnown() {
        var e = refused(json(Samples.receipt()).replace("receipt/1.0", "receipt/2.0"));
        assertThat(e.field()).isEqualTo("schema");
        assertThat(e.reason()).contains("major version 2").contains("only 1");
    }

    @Test
    void otherKindOfMessage_isNamed() {
        var e = refused(json(Samples.command()));
        assertThat(e.field()).isEqualTo("schema");
        assertThat(e.reason()).contains("names a 'command', expected a 'receipt'");
    }

    @Test
    void missingText_namesTheField() {
        var e = refused(json(Samples.receipt()).replace("\"sha256\"", "\"sha\""));
        assertThat(e.field()).isEqualTo("sha256");
        assertThat(e.reason()).isEqualTo("is missing");
    }

    /** Found by the fuzz: text of a number would be read as seconds since 1970. */
    @ParameterizedTest
    @ValueSource(strings = {"-1", "1782896400", "1782896400.5", "yesterday", ""})
    void timeThatIsNone_namesTheField(String text) {
        String json = json(Samples.cycle());
        var e =
                refused(
                        json.replaceFirst(
                                "\"startedAt\":\"[^\"]*\"", "\"startedAt\":\"" + text + "\""),
                        CycleRecord.class);
        assertThat(e.field()).isEqualTo("startedAt");
        assertThat(e.reason()).isEqualTo("cannot be read: no time such as 2031-06-01T09:00:00Z");
    }

    @Test
    void timeWithAnOffset_isThatInstant() throws UnreadableMessage {
        CycleRecord cycle = Samples.cycle();
        String json =
                json(cycle)
                        .replaceFirst(
                                "\"startedAt\":\"[^\"]*\"",
                                "\"startedAt\":\"2031-06-01T11:00:00+02:00\"");
        assertThat(Messages.read(json.getBytes(UTF_8), CycleRecord.class).startedAt())
                .isEqualTo(Instant.parse("2031-06-01T09:00:00Z"));
    }

    @Test
    void missingNumber_isNotReadAsZero() {
        var e =
                refused(
                        json(Samples.cycle()).replace("\"duration_s\"", "\"duration\""),
                        CycleRecord.class);
        assertThat(e.field()).isEqualTo("duration_s");
        assertThat(e.reason()).isEqualTo("is missing");
    }

    @Test
    void wrongValueDeepInside_isNamedByItsPath() {
        String json =
                json(Samples.cycle())
                        .replace(
                                "\"bout\":1,\"startedAfter_s\":0.02",
                                "\"bout\":1,\"startedAfter_s\":-1");
        var e = refused(json, CycleRecord.class);
        assertThat(e.field()).isEqualTo("bouts[0].startedAfter_s");
        assertThat(e.reason()).contains("is -1.0, expected 0.0 to");
    }

    @Test
    void textInsteadOfANumber_isRefused() {
        var e =
                refused(
                        json(Samples.cycle()).replace("\"sequence\":17", "\"sequence\":\"17\""),
                        CycleRecord.class);
        assertThat(e.field()).isEqualTo("sequence");
    }

    @Test
    void recipeChangedOnTheWay_isFoundByItsHash() {
        var e =
                refused(
                        json(Samples.ticket())
                                .replace("\"speed_rpm\":180.0", "\"speed_rpm\":181.0"),
                        Ticket.class);
        assertThat(e.field()).isEqualTo("recipe.hash");
        assertThat(e.reason()).contains("does not belong");
    }

    @Test
    void conformityThatContradictsItself_isRefused() {
        var e =
                refused(
                        json(Samples.cycle()).replace("\"conforms\":false", "\"conforms\":true"),
                        CycleRecord.class);
        assertThat(e.field()).isEqualTo("conformity.conforms");
    }

    @Test
    void malformedJson_saysSo() {
        assertThat(refused("{\"schema\":").reason()).startsWith("is not JSON");
        assertThat(refused("").field()).isEqualTo("payload");
        assertThat(refused("null").reason()).isEqualTo("is the JSON value null");
        assertThat(refused("[]").field()).isEqualTo("payload");
        assertThat(refused(json(Samples.receipt()) + "x").reason()).startsWith("is not JSON");
    }

    @Test
    void aFieldGivenTwice_isRefused() {
        var e = refused(json(Samples.receipt()).replaceFirst("\\{", "{\"sha256\":\"\","));
        assertThat(e.reason()).contains("uplicate field");
    }

    @Test
    void deepNesting_isRefusedWithoutOverflow() {
        String json =
                json(Samples.receipt()).replaceFirst("\\{", "{\"x\":" + "[".repeat(50_000) + ",");
        assertThat(refused(json).field()).isNotEmpty();
    }

    @Test
    void otherEncoding_isRefused() {
        assertThat(refusedBytes(json(Samples.receipt()).getBytes(UTF_16LE)).field())
                .isEqualTo("payload");
        byte[] broken = json(Samples.receipt()).getBytes(UTF_8);
        broken[broken.length - 3] = (byte) 0xC3;
        assertThat(refusedBytes(broken).reason()).isEqualTo("is not UTF-8");
    }

    @Test
    void payloadOneByteTooLong_isRefusedUnread_andTheLongestAllowedIsRead()
            throws UnreadableMessage {
        byte[] longest = new byte[Messages.MOST_BYTES];
        Arrays.fill(longest, (byte) ' ');
        byte[] json = Messages.write(Samples.receipt());
        System.arraycopy(json, 0, longest, 0, json.length);
        assertThat(Messages.read(longest, Receipt.class)).isEqualTo(Samples.receipt());

        var e = refusedBytes(Arrays.copyOf(longest, Messages.MOST_BYTES + 1));
        assertThat(e.reason()).contains("262145 bytes").contains("at most 262144");
    }

    @Test
    void longestCycleABenchWillRun_fitsIntoOnePayload() {
        CycleRecord c = Samples.cycle();
        int seconds = (int) CycleRecord.LONGEST_S;
        var trace = new CycleRecord.SpeedTrace(1, Collections.nCopies(seconds, 179.25));
        var bouts = Collections.nCopies(200, c.bouts().get(0));
        var rests = Collections.nCopies(200, c.rests().get(0));
        var all =
                new CycleRecord(
                        c.schema(),
                        c.cycleId(),
                        c.benchId(),
                        c.bootId(),
                        c.outboxId(),
                        1,
                        true,
                        c.controllerVersion(),
                        c.positions(),
                        null,
                        c.recipe(),
                        c.outcome(),
                        null,
                        c.startedAt(),
                        c.endedAt(),
                        c.clock(),
                        seconds,
                        1,
                        1,
                        1,
                        1,
                        bouts,
                        rests,
                        c.interruptions(),
                        c.acknowledged(),
                        c.conditions(),
                        c.scan(),
                        trace,
                        c.conformity());
        assertThat(Messages.write(all).length).isLessThan(Messages.MOST_BYTES);
    }

    @Test
    void controlCharactersFromAStranger_doNotReachTheLog() {
        var e = refused(json(Samples.receipt()).replace("receipt/1.0", "a\\nb/1.0"));
        assertThat(e.getMessage()).doesNotContain("\n").contains("a?b");
    }

    @Test
    void benchIdWithTopicCharacters_isRefused() {
        for (String id : List.of("a/b", "a.b", "#", "+", "", "A", "x".repeat(33))) {
            assertThatThrownBy(() -> BenchState.offline(id, false))
                    .isInstanceOf(ContractViolation.class)
                    .hasMessageContaining("benchId");
        }
    }

    /** FIPS 180-4, example "abc". */
    @Test
    void sha256_isTheStandards() {
        assertThat(Messages.sha256("abc".getBytes(UTF_8)))
                .isEqualTo("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    private static String json(Message message) {
        return new String(Messages.write(message), UTF_8);
    }

    private static UnreadableMessage refused(String json) {
        return refused(json, Receipt.class);
    }

    private static UnreadableMessage refusedBytes(byte[] payload) {
        return catchThrowableOfType(
                UnreadableMessage.class, () -> Messages.read(payload, Receipt.class));
    }

    private static UnreadableMessage refused(String json, Class<? extends Message> kind) {
        return catchThrowableOfType(
                UnreadableMessage.class, () -> Messages.read(json.getBytes(UTF_8), kind));
    }
}
