package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The published description and the route table say the same. */
class OpenApiTest {
    private static Stream<Route> table() {
        return Stream.of(
                        new Api(null, null, null).routes(),
                        new AccountApi(null, null, null, null).routes(),
                        new WashApi(null, null).routes(),
                        WorkRoutes.of(null, null),
                        new ImportApi(null, null, null).routes(),
                        new ExportApi(null, null).routes())
                .flatMap(List::stream);
    }

    /** The least role that the document names is the one that the route asks for. */
    @Test
    void namesTheRoleOfEveryRoute() throws IOException {
        JsonNode paths = OpenApiFile.read().get("paths");
        table().forEach(
                        route -> {
                            JsonNode method =
                                    paths.get(route.path())
                                            .get(route.method().name().toLowerCase(Locale.ROOT));
                            String role = method.path("x-role").asText("operator");
                            boolean open =
                                    method.path("security").isEmpty() && method.has("security");
                            String named = open ? "everybody" : role;
                            assertThat(named)
                                    .as(route.method() + " " + route.path())
                                    .isEqualToIgnoringCase(route.access().name());
                        });
    }

    @Test
    void describesEveryRoute_andNoOther() throws IOException {
        List<String> routes =
                table().map(route -> route.method().name() + " " + route.path()).toList();
        List<String> described =
                OpenApiFile.read().get("paths").properties().stream()
                        .flatMap(
                                path ->
                                        path.getValue().properties().stream()
                                                .map(
                                                        method ->
                                                                method.getKey()
                                                                                .toUpperCase(
                                                                                        Locale.ROOT)
                                                                        + " "
                                                                        + path.getKey()))
                        .toList();
        assertThat(described).containsExactlyInAnyOrderElementsOf(routes);
    }

    @Test
    void everyReference_leadsSomewhere() throws IOException {
        JsonNode document = OpenApiFile.read();
        List<String> references = document.findValuesAsText("$ref");
        assertThat(references).isNotEmpty();
        for (String reference : references) {
            assertThat(document.at(reference.substring(1)).isMissingNode()).as(reference).isFalse();
        }
    }

    @Test
    void noRoute_canStartMotion() throws IOException {
        assertThat(OpenApiFile.read().get("paths").properties())
                .noneMatch(path -> path.getKey().endsWith("/start"));
    }
}
