package org.evenwash.logger.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.TableDump;

/**
 * Bodies and addresses that fit, made from the published description and from what the database holds,
 * so that a route is fuzzed as soon as it is described.
 */
final class FormFields {
    private static final ObjectMapper JSON = new ObjectMapper();

    private final JsonNode document;
    private final Map<String, List<String>> ids = new TreeMap<>();

    FormFields(Database database) {
        try {
            document = OpenApiFile.read();
        } catch (IOException e) {
            throw new AssertionError("the description cannot be read", e);
        }
        database.read(
                handle -> {
                    for (String table : TableDump.tables(handle)) {
                        if (!TableDump.columns(handle, table).contains("id")) {
                            continue;
                        }
                        List<String> some =
                                handle.createQuery("SELECT id FROM " + table + " LIMIT 20")
                                        .mapTo(String.class)
                                        .list();
                        if (!some.isEmpty()) {
                            ids.put(table, some);
                        }
                    }
                    return null;
                });
    }

    /** An address of that route with things that are there, mostly. */
    String address(Route route, Random random) {
        String[] parts = route.path().split("/");
        StringBuilder address = new StringBuilder();
        String before = "";
        for (String part : parts) {
            if (!part.isEmpty()) {
                boolean place = part.startsWith("{") || part.startsWith("<");
                address.append('/').append(place ? id(before, random) : part);
                before = part;
            }
        }
        return address.isEmpty() ? "/" : address.toString();
    }

    /** An id out of the table whose name is most like the word. */
    private String id(String word, Random random) {
        if (random.nextInt(20) == 0 || word.equals("benches")) {
            return Scene.BENCH;
        }
        String wanted = word.toLowerCase(Locale.ROOT).replace('-', '_');
        String best = null;
        int longest = 2;
        for (String table : ids.keySet()) {
            int common = 0;
            while (common < Math.min(table.length(), wanted.length())
                    && table.charAt(common) == wanted.charAt(common)) {
                common++;
            }
            if (common > longest) {
                longest = common;
                best = table;
            }
        }
        List<String> tables = List.copyOf(ids.keySet());
        String table = best != null ? best : tables.get(random.nextInt(tables.size()));
        List<String> some = ids.get(table);
        return some.get(random.nextInt(some.size()));
    }

    /** A body that the description allows; empty where it has none. */
    ObjectNode body(Route route, Random random) {
        ObjectNode body = JSON.createObjectNode();
        JsonNode schema =
                document.at("/paths")
                        .path(route.path())
                        .path(route.method().name().toLowerCase(Locale.ROOT))
                        .path("requestBody")
                        .path("content")
                        .path("application/json")
                        .path("schema");
        for (Map.Entry<String, JsonNode> field : resolved(schema).path("properties").properties()) {
            if (random.nextInt(5) > 0) {
                body.set(field.getKey(), value(field.getKey(), field.getValue(), random));
            }
        }
        return body;
    }

    private JsonNode resolved(JsonNode schema) {
        JsonNode reference = schema.get("$ref");
        return reference == null ? schema : document.at(reference.asText().substring(1));
    }

    private JsonNode value(String name, JsonNode schema, Random random) {
        String reference = schema.path("$ref").asText();
        JsonNode type = resolved(schema);
        Map<String, String> known = new HashMap<>();
        known.put("benchId", Scene.BENCH);
        known.put("timeZone", "Etc/UTC");
        known.put("by", id("operator", random));
        if (known.containsKey(name)) {
            return JSON.getNodeFactory().textNode(known.get(name));
        }
        if (reference.endsWith("/Recipe")) {
            return JSON.getNodeFactory().textNode("twenty-seconds:1");
        }
        if (type.has("enum")) {
            return type.get("enum").get(random.nextInt(type.get("enum").size()));
        }
        if ("uuid".equals(type.path("format").asText())) {
            return JSON.getNodeFactory().textNode(id(name, random));
        }
        if ("date".equals(type.path("format").asText())) {
            return JSON.getNodeFactory().textNode("2031-05-" + (10 + random.nextInt(15)));
        }
        double least = type.path("minimum").asDouble(0);
        double most = Math.min(type.path("maximum").asDouble(1_000), least + 400);
        return switch (type.path("type").asText()) {
            case "integer" ->
                    JSON.getNodeFactory()
                            .numberNode((long) least + random.nextInt(1 + (int) (most - least)));
            case "number" ->
                    JSON.getNodeFactory().numberNode(least + (most - least) * random.nextDouble());
            case "boolean" -> JSON.getNodeFactory().booleanNode(random.nextBoolean());
            case "array" -> JSON.createArrayNode().add(value(name, type.path("items"), random));
            default -> JSON.getNodeFactory().textNode("Word " + random.nextInt(1_000_000));
        };
    }
}
