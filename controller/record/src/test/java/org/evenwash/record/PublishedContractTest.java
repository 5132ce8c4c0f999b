package org.evenwash.record;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import com.networknt.schema.Error;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.function.BiConsumer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The JSON Schemas and the AsyncAPI document say what the code does. */
class PublishedContractTest {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final SchemaRegistry SCHEMAS =
            SchemaRegistry.withDefaultDialect(
                    SpecificationVersion.DRAFT_2020_12,
                    registry -> registry.schemaRegistryConfig(config()));

    private static com.networknt.schema.SchemaRegistryConfig config() {
        return com.networknt.schema.SchemaRegistryConfig.builder()
                .formatAssertionsEnabled(true)
                .build();
    }

    static List<Message> samples() {
        return Samples.all();
    }

    @ParameterizedTest
    @MethodSource("samples")
    void realMessage_isValidByItsSchema(Message message) throws IOException {
        assertThat(errors(message, JSON.readTree(Messages.write(message)))).isEmpty();
    }

    @Test
    void lastWill_isValidByItsSchema() throws IOException {
        BenchState will = BenchState.offline("shed-1", false);
        assertThat(errors(will, JSON.readTree(Messages.write(will)))).isEmpty();
    }

    /** Schema and reader must agree on what may be left out, at every depth. */
    @ParameterizedTest
    @MethodSource("samples")
    void anyFieldLeftOut_isJudgedAlikeBySchemaAndReader(Message message) throws IOException {
        JsonNode whole = JSON.readTree(Messages.write(message));
        List<String> tried = new ArrayList<>();
        forEachField(
                whole,
                "",
                (path, parent) -> {
                    String name = path.substring(path.lastIndexOf('.') + 1);
                    JsonNode kept = parent.remove(name);
                    tried.add(path);
                    assertThat(isReadable(message, whole))
                            .as("%s without %s", message.schema(), path)
                            .isEqualTo(errors(message, whole).isEmpty());
                    parent.set(name, kept);
                });
        assertThat(tried).hasSizeGreaterThan(3);
    }

    /** PostgreSQL's texts cannot hold it. */
    @ParameterizedTest
    @MethodSource("samples")
    void anyTextWithAZero_isRefusedByBoth(Message message) throws IOException {
        JsonNode whole = JSON.readTree(Messages.write(message));
        forEachField(
                whole,
                "",
                (path, parent) -> {
                    String name = path.substring(path.lastIndexOf('.') + 1);
                    JsonNode kept = parent.get(name);
                    if (kept.isTextual()) {
                        String text = kept.textValue();
                        parent.put(name, text.substring(0, 1) + "\0" + text.substring(1));
                        assertThat(isReadable(message, whole)).as("reader, %s", path).isFalse();
                        assertThat(errors(message, whole)).as("schema, %s", path).isNotEmpty();
                        parent.set(name, kept);
                    }
                });
    }

    /** No number, text or list may be replaced by a thing of another type. */
    @ParameterizedTest
    @MethodSource("samples")
    void anyFieldOfAnotherType_isRefusedByBoth(Message message) throws IOException {
        JsonNode whole = JSON.readTree(Messages.write(message));
        forEachField(
                whole,
                "",
                (path, parent) -> {
                    String name = path.substring(path.lastIndexOf('.') + 1);
                    JsonNode kept = parent.get(name);
                    parent.put(name, !kept.isBoolean());
                    if (kept.isBoolean()) {
                        parent.put(name, "yes");
                    }
                    assertThat(isReadable(message, whole)).as("read with odd %s", path).isFalse();
                    assertThat(errors(message, whole)).as("schema with odd %s", path).isNotEmpty();
                    parent.set(name, kept);
                });
    }

    @Test
    void asyncApi_namesEveryTopicOnce_andRefersToSchemasThatExist() throws IOException {
        JsonNode document;
        try (InputStream in = Messages.class.getResourceAsStream("asyncapi.yaml")) {
            document = new YAMLMapper().readTree(in);
        }
        List<String> addresses = new ArrayList<>();
        document.get("channels").forEach(channel -> addresses.add(channel.get("address").asText()));
        List<String> expected = new ArrayList<>();
        for (Topics.Kind kind : Topics.Kind.values()) {
            expected.add(Topics.of("x", kind).replace("/x/", "/{benchId}/"));
            String operation = kind.writtenByBench() ? "send" : "receive";
            assertThat(document.get("operations"))
                    .anySatisfy(
                            o -> {
                                assertThat(o.get("action").asText()).isEqualTo(operation);
                                assertThat(o.at("/channel/$ref").asText())
                                        .isEqualTo("#/channels/" + kind.word());
                            });
            String reference =
                    document.at("/components/messages/" + kind.word() + "/payload/schema/$ref")
                            .asText();
            assertThat(Messages.class.getResource(reference)).as(reference).isNotNull();
        }
        assertThat(addresses).containsExactlyInAnyOrderElementsOf(expected);
    }

    private static void forEachField(
            JsonNode node, String path, BiConsumer<String, ObjectNode> action) {
        if (node instanceof ObjectNode object) {
            List<String> names = new ArrayList<>();
            object.fieldNames().forEachRemaining(names::add);
            for (String name : names) {
                action.accept(path + "." + name, object);
                forEachField(object.get(name), path + "." + name, action);
            }
        } else if (node instanceof ArrayNode array) {
            for (int i = 0; i < array.size(); i++) {
                forEachField(array.get(i), path + "[" + i + "]", action);
            }
        }
    }

    private static boolean isReadable(Message message, JsonNode json) {
        try {
            Messages.read(JSON.writeValueAsBytes(json), message.getClass());
            return true;
        } catch (UnreadableMessage e) {
            return false;
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    private static List<Error> errors(Message message, JsonNode json) {
        String kind = message.schema().substring(0, message.schema().indexOf('/'));
        try (InputStream in = Messages.class.getResourceAsStream("schema/" + kind + ".json")) {
            Schema schema = SCHEMAS.getSchema(in);
            return schema.validate(json);
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }
}
