package org.evenwash.record;

import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonMappingException;
import com.fasterxml.jackson.databind.MapperFeature;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.cfg.CoercionAction;
import com.fasterxml.jackson.databind.cfg.CoercionInputShape;
import com.fasterxml.jackson.databind.cfg.MutableCoercionConfig;
import com.fasterxml.jackson.databind.deser.std.StdScalarDeserializer;
import com.fasterxml.jackson.databind.exc.InvalidFormatException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.type.LogicalType;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.UUID;
import java.util.function.Function;

/** Messages to bytes and back: JSON, UTF-8. */
public final class Messages {
    /** A longer payload is not read at all. The longest cycle fits. */
    public static final int MOST_BYTES = 256 * 1024;

    private static final char STANDS_FOR_WHAT_CANNOT_BE_DECODED = '\uFFFD';

    private static final ObjectMapper MAPPER =
            JsonMapper.builder()
                    .addModule(
                            new JavaTimeModule()
                                    .addDeserializer(
                                            Instant.class,
                                            new AsText<>(
                                                    Instant.class,
                                                    Messages::instant,
                                                    "no time such as 2031-06-01T09:00:00Z"))
                                    .addDeserializer(
                                            UUID.class,
                                            new AsText<>(
                                                    UUID.class,
                                                    Messages::uuid,
                                                    "no UUID such as"
                                                            + " 0b1c2d3e-4f50-4172-8394-a5b6c7d8e9f0")))
                    .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                    .enable(StreamReadFeature.USE_FAST_DOUBLE_PARSER)
                    .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
                    .enable(DeserializationFeature.FAIL_ON_NUMBERS_FOR_ENUMS)
                    .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
                    .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
                    .disable(DeserializationFeature.ACCEPT_FLOAT_AS_INT)
                    .disable(MapperFeature.ALLOW_COERCION_OF_SCALARS)
                    .withCoercionConfig(LogicalType.Textual, Messages::textOnly)
                    .withCoercionConfigDefaults(Messages::nothingFromBlank)
                    .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
                    .defaultPropertyInclusion(JsonInclude.Value.ALL_NON_NULL)
                    .build();

    private Messages() {}

    /** A number or a truth value is not a text: the schema says so, the reader too. */
    private static void textOnly(MutableCoercionConfig config) {
        config.setCoercion(CoercionInputShape.Boolean, CoercionAction.Fail);
        config.setCoercion(CoercionInputShape.Integer, CoercionAction.Fail);
        config.setCoercion(CoercionInputShape.Float, CoercionAction.Fail);
    }

    private static Instant instant(String text) {
        if (text.contains(":60")) {
            throw new DateTimeException("a leap second would be taken for the one before it");
        }
        return DateTimeFormatter.ISO_INSTANT.parse(text, Instant::from);
    }

    private static UUID uuid(String text) {
        UUID id = UUID.fromString(text);
        if (!id.toString().equalsIgnoreCase(text)) {
            throw new IllegalArgumentException("short forms are read by Java alone");
        }
        return id;
    }

    /** A blank text where something else belongs is a mistake, not that nothing was said. */
    private static void nothingFromBlank(MutableCoercionConfig config) {
        config.setAcceptBlankAsEmpty(true);
        config.setCoercion(CoercionInputShape.EmptyString, CoercionAction.Fail);
    }

    /** Nothing but a text, in the one form that the contract names; Jackson by itself is more generous. */
    private static final class AsText<T> extends StdScalarDeserializer<T> {
        private final Class<T> kind;
        private final Function<String, T> reader;
        private final String expected;

        AsText(Class<T> kind, Function<String, T> reader, String expected) {
            super(kind);
            this.kind = kind;
            this.reader = reader;
            this.expected = expected;
        }

        @Override
        public T deserialize(JsonParser parser, DeserializationContext context) throws IOException {
            if (!parser.hasToken(JsonToken.VALUE_STRING)) {
                return kind.cast(context.handleUnexpectedToken(kind, parser));
            }
            String text = parser.getText();
            try {
                return reader.apply(text);
            } catch (DateTimeException | IllegalArgumentException e) {
                InvalidFormatException wrong =
                        new InvalidFormatException(parser, expected, text, kind);
                wrong.initCause(e);
                throw wrong;
            }
        }
    }

    /** Payload of a message. */
    public static byte[] write(Message message) {
        try {
            return MAPPER.writeValueAsBytes(message);
        } catch (JsonProcessingException e) {
            // Records of numbers, texts and ids always have a JSON form.
            throw new IllegalStateException("cannot write " + message.schema(), e);
        }
    }

    /**
     * Reads a payload.
     *
     * @throws UnreadableMessage if it is too long, not UTF-8, not JSON, of another kind or major
     *     version, or has a value that the contract does not allow
     */
    public static <T extends Message> T read(byte[] payload, Class<T> kind)
            throws UnreadableMessage {
        if (payload.length > MOST_BYTES) {
            throw new UnreadableMessage(
                    "payload",
                    "has " + payload.length + " bytes, at most " + MOST_BYTES + " are read",
                    null);
        }
        try {
            String text = text(payload);
            T message =
                    isTakenForUtf8(payload)
                            ? MAPPER.readValue(payload, kind)
                            : MAPPER.readValue(text, kind);
            if (message == null) {
                throw new UnreadableMessage("payload", "is the JSON value null", null);
            }
            return message;
        } catch (JsonMappingException e) {
            throw unreadable(e);
        } catch (JsonProcessingException e) {
            throw new UnreadableMessage(
                    "payload", "is not JSON: " + Check.shown(e.getOriginalMessage()), e);
        } catch (IOException e) {
            throw new IllegalStateException("a byte array cannot fail to be read", e);
        }
    }

    /** SHA-256 in lower-case hex digits. */
    public static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    /** Jackson would guess UTF-16 and replace what it cannot decode; the contract says UTF-8. */
    private static String text(byte[] payload) throws UnreadableMessage {
        String text = new String(payload, StandardCharsets.UTF_8);
        if (text.indexOf(STANDS_FOR_WHAT_CANNOT_BE_DECODED) >= 0
                && !Arrays.equals(text.getBytes(StandardCharsets.UTF_8), payload)) {
            throw new UnreadableMessage("payload", "is not UTF-8", null);
        }
        return text;
    }

    /** Bytes are read faster than text, and Jackson looks for zeros and marks only at their beginning. */
    private static boolean isTakenForUtf8(byte[] payload) {
        return payload.length >= 2 && payload[0] == '{' && payload[1] != 0;
    }

    private static UnreadableMessage unreadable(JsonMappingException e) {
        String path = path(e.getPath());
        for (Throwable cause = e; cause != null; cause = cause.getCause()) {
            if (cause instanceof ContractViolation violation) {
                String field = path.isEmpty() ? violation.field() : path + "." + violation.field();
                return new UnreadableMessage(field, violation.reason(), e);
            }
        }
        String reason = e.getOriginalMessage();
        reason = reason.contains("`null`") ? "is missing" : "cannot be read: " + reason;
        return new UnreadableMessage(
                path.isEmpty() ? "payload" : path, Check.shown(reason).strip(), e);
    }

    private static String path(List<JsonMappingException.Reference> references) {
        StringBuilder path = new StringBuilder();
        for (JsonMappingException.Reference reference : references) {
            if (reference.getFieldName() == null) {
                path.append('[').append(reference.getIndex()).append(']');
            } else {
                path.append(path.isEmpty() ? "" : ".").append(reference.getFieldName());
            }
        }
        return path.toString();
    }
}
