package org.evenwash.logger.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import java.io.IOException;
import java.io.InputStream;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;

/** The published description of the HTTP API. */
final class OpenApiFile {
    /** Through SnakeYAML, which follows the anchors that spare repetition; there are many. */
    static JsonNode read() throws IOException {
        LoaderOptions options = new LoaderOptions();
        options.setMaxAliasesForCollections(1_000);
        try (InputStream file = OpenApiFile.class.getResourceAsStream("/web/openapi.yaml")) {
            Object tree = new Yaml(options).load(file);
            return new YAMLMapper().valueToTree(tree);
        }
    }

    private OpenApiFile() {}
}
