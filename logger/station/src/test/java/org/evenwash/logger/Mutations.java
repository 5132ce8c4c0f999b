package org.evenwash.logger;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;

/** Valid JSON made wrong, one way or several, all derived from the random numbers given. */
public final class Mutations {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final JsonNodeFactory NODES = JsonNodeFactory.instance;
    private static final int DEEPEST = 3_000;

    /** What a careless or malicious program writes where something else is expected. */
    private static final List<String> TEXTS =
            List.of(
                    "",
                    " ",
                    "0",
                    "-1",
                    "1e999",
                    "NaN",
                    "null",
                    "true",
                    "\u0000",
                    "\ud800",
                    "\u202e\u200b",
                    "ﬀ́̂̃",
                    "🐝",
                    "=1+1",
                    "'; DROP TABLE cycle; --",
                    "${jndi:ldap://x}",
                    "@{page}",
                    "<script>alert(1)</script>",
                    "../../../../etc/passwd",
                    "%s%n%x",
                    "\r\nSet-Cookie: a=b",
                    "00000000-0000-0000-0000-000000000000",
                    "1-1-1-1-1",
                    "2031-02-30",
                    "+999999999-12-31",
                    "-999999999-01-01",
                    "9999-12-31T23:59:60Z",
                    "1000000-01-01T00:00:00Z",
                    "١٢٣");

    private static final List<String> NUMBERS =
            List.of(
                    "0",
                    "-0",
                    "-1",
                    "0.5",
                    "1e400",
                    "-1e400",
                    "4.9e-324",
                    "1.7976931348623157e308",
                    "2147483648",
                    "-2147483649",
                    "9223372036854775807",
                    "9223372036854775808",
                    "123456789012345678901234567890",
                    "1".repeat(1_200));

    private Mutations() {}

    /** Text that belongs nowhere. */
    public static String text(Random random) {
        int choice = random.nextInt(TEXTS.size() + 3);
        if (choice < TEXTS.size()) {
            return TEXTS.get(choice);
        }
        return "x".repeat(1 << (4 + random.nextInt(choice == TEXTS.size() ? 13 : 6)));
    }

    /** A number as text, often beyond what a number type holds. */
    public static String number(Random random) {
        return NUMBERS.get(random.nextInt(NUMBERS.size()));
    }

    /** The message with one to three things wrong; sometimes none after all. */
    public static byte[] of(byte[] valid, Random random) {
        byte[] bytes = valid;
        if (random.nextInt(4) > 0) {
            bytes = tree(valid, random);
        }
        if (random.nextInt(3) == 0) {
            bytes = bytes(bytes, random);
        }
        return bytes;
    }

    private static byte[] tree(byte[] valid, Random random) {
        JsonNode root;
        try {
            root = JSON.readTree(valid);
        } catch (IOException e) {
            throw new UncheckedIOException("only valid JSON is mutated", e);
        }
        List<JsonNode> containers = new ArrayList<>();
        collect(root, containers);
        for (int times = 1 + random.nextInt(3); times > 0 && !containers.isEmpty(); times--) {
            JsonNode at = containers.get(random.nextInt(containers.size()));
            if (at instanceof ObjectNode object && !object.isEmpty()) {
                change(object, random);
            } else if (at instanceof ArrayNode array) {
                change(array, random);
            }
        }
        try {
            return JSON.writeValueAsBytes(root);
        } catch (JsonProcessingException e) {
            // Nested deeper than Jackson writes; by hand it is still a message.
            return ("[".repeat(DEEPEST) + "]".repeat(DEEPEST)).getBytes(StandardCharsets.UTF_8);
        }
    }

    private static void collect(JsonNode node, List<JsonNode> into) {
        if (node.isContainerNode()) {
            into.add(node);
            node.forEach(child -> collect(child, into));
        }
    }

    private static void change(ObjectNode object, Random random) {
        List<String> names = new ArrayList<>();
        object.fieldNames().forEachRemaining(names::add);
        String name = names.get(random.nextInt(names.size()));
        switch (random.nextInt(6)) {
            case 0 -> object.remove(name);
            case 1 -> object.set(text(random), object.remove(name));
            case 2 -> object.set(text(random), wrong(random));
            case 3 -> object.set(name, object.get(names.get(random.nextInt(names.size()))));
            default -> object.set(name, wrong(random));
        }
    }

    private static void change(ArrayNode array, Random random) {
        switch (random.nextInt(4)) {
            case 0 -> array.removeAll();
            case 1 -> array.add(wrong(random));
            case 2 -> {
                JsonNode again = array.isEmpty() ? wrong(random) : array.get(0);
                for (int i = random.nextInt(2_000); i > 0; i--) {
                    array.add(again);
                }
            }
            default -> {
                if (!array.isEmpty()) {
                    array.set(random.nextInt(array.size()), wrong(random));
                }
            }
        }
    }

    private static JsonNode wrong(Random random) {
        return switch (random.nextInt(8)) {
            case 0 -> NODES.nullNode();
            case 1 -> NODES.booleanNode(random.nextBoolean());
            case 2 -> NODES.objectNode();
            case 3 -> nested(random.nextInt(900));
            case 4 -> NODES.numberNode(random.nextGaussian() * Math.pow(10, random.nextInt(12)));
            case 5 ->
                    NODES.rawValueNode(
                            new com.fasterxml.jackson.databind.util.RawValue(number(random)));
            default -> NODES.textNode(text(random));
        };
    }

    private static JsonNode nested(int depth) {
        JsonNode inner = NODES.arrayNode();
        for (int i = 0; i < depth; i++) {
            inner = NODES.arrayNode().add(inner);
        }
        return inner;
    }

    private static byte[] bytes(byte[] message, Random random) {
        if (message.length == 0) {
            return message;
        }
        int at = random.nextInt(message.length);
        byte[] changed = message.clone();
        return switch (random.nextInt(8)) {
            case 0 -> Arrays.copyOf(message, at);
            case 1 -> {
                changed[at] ^= (byte) (1 << random.nextInt(8));
                yield changed;
            }
            case 2 -> {
                changed[at] = (byte) random.nextInt(256);
                yield changed;
            }
            case 3 -> text(message).getBytes(StandardCharsets.UTF_16);
            case 4 -> text(message).getBytes(StandardCharsets.ISO_8859_1);
            case 5 -> ("\ufeff" + text(message)).getBytes(StandardCharsets.UTF_8);
            case 6 -> (text(message) + text(message)).getBytes(StandardCharsets.UTF_8);
            default -> (text(message) + text(random)).getBytes(StandardCharsets.UTF_8);
        };
    }

    private static String text(byte[] message) {
        return new String(message, StandardCharsets.UTF_8);
    }
}
