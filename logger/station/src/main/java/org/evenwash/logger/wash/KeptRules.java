package org.evenwash.logger.wash;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.protocol.Limit;
import org.evenwash.analysis.protocol.Point;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.protocol.Rule;
import org.evenwash.analysis.protocol.Source;
import org.evenwash.logger.store.Json;

/**
 * A protocol as it is kept with the choice of it: whole, so that washes go on being judged by what was
 * chosen, whatever becomes of the file.
 */
final class KeptRules {
    private KeptRules() {}

    static Map<String, Object> content(Protocol protocol) {
        return Map.of(
                "id", protocol.id(),
                "name", protocol.name(),
                "edition", protocol.edition(),
                "points", protocol.rules().stream().map(KeptRules::content).toList());
    }

    private static Map<String, Object> content(Rule rule) {
        Map<String, Object> content = new LinkedHashMap<>();
        content.put("point", rule.point().key());
        content.put("asked", rule.limit().words(rule.point()));
        content.put("severity", rule.severity());
        content.put("source", rule.source());
        content.put("note", rule.note());
        if (rule.limit() instanceof Limit.Range range) {
            range.least().ifPresent(least -> content.put("least", least));
            range.most().ifPresent(most -> content.put("most", most));
        } else if (rule.limit() instanceof Limit.OneOf oneOf) {
            content.put("one_of", oneOf.words());
        }
        return content;
    }

    /** Empty where the choice was made before whole rules were kept, or names a point since gone. */
    static Optional<Protocol> protocol(String contentJson) {
        JsonNode content = Json.read(contentJson, JsonNode.class);
        List<Rule> rules = new ArrayList<>();
        for (JsonNode point : content.path("points")) {
            Optional<Rule> rule = rule(point);
            if (rule.isEmpty()) {
                return Optional.empty();
            }
            rules.add(rule.get());
        }
        return Optional.of(
                new Protocol(
                        content.path("id").asText(),
                        content.path("name").asText(),
                        content.path("edition").asText(),
                        rules));
    }

    private static Optional<Rule> rule(JsonNode kept) {
        Optional<Point> point = Point.ofKey(kept.path("point").asText());
        return point.flatMap(one -> limit(one, kept))
                .map(
                        limit ->
                                new Rule(
                                        point.get(),
                                        limit,
                                        Rule.Severity.valueOf(kept.path("severity").asText()),
                                        Json.read(kept.path("source").toString(), Source.class),
                                        kept.path("note").asText()));
    }

    private static Optional<Limit> limit(Point point, JsonNode kept) {
        return switch (point.kind()) {
            case YES_NO -> Optional.of(new Limit.Required());
            case NUMBER ->
                    kept.has("least") || kept.has("most")
                            ? Optional.of(
                                    new Limit.Range(number(kept, "least"), number(kept, "most")))
                            : Optional.empty();
            case CHOICE -> {
                List<String> words = new ArrayList<>();
                kept.path("one_of").forEach(word -> words.add(word.asText()));
                yield words.isEmpty() ? Optional.empty() : Optional.of(new Limit.OneOf(words));
            }
        };
    }

    private static OptionalDouble number(JsonNode kept, String name) {
        return kept.has(name)
                ? OptionalDouble.of(kept.path(name).asDouble())
                : OptionalDouble.empty();
    }
}
