package org.evenwash.logger.rules;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.protocol.Limit;
import org.evenwash.analysis.protocol.Point;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.protocol.Rule;
import org.evenwash.analysis.protocol.Source;
import org.evenwash.logger.rules.YamlNodes.Fields;

/**
 * Reads one protocol file. The format is explained at the top of the shipped {@code
 * coloss-beebook-2013.yaml}.
 */
final class ProtocolFile {
    private static final List<String> KEYS =
            List.of("protocol", "name", "edition", "based_on", "sources", "points");
    private static final List<String> SEVERITIES = List.of("fail", "caution");
    private static final List<String> POINTS =
            Arrays.stream(Point.values()).map(Point::key).toList();

    private final YamlNodes nodes;
    private final Map<String, Protocol> shipped;

    private ProtocolFile(YamlNodes nodes, Map<String, Protocol> shipped) {
        this.nodes = nodes;
        this.shipped = shipped;
    }

    /** @param shipped what {@code based_on} can name */
    static Protocol read(String file, String text, Map<String, Protocol> shipped)
            throws RuleFileException {
        YamlNodes nodes = new YamlNodes(file);
        Optional<Protocol> protocol =
                nodes.open(text).flatMap(new ProtocolFile(nodes, shipped)::protocol);
        nodes.refuseIfMistaken();
        return protocol.orElseThrow();
    }

    private Optional<Protocol> protocol(Fields top) {
        top.allow(KEYS);
        Optional<String> id = top.word("protocol", "a short name, such as my-protocol");
        Optional<String> name = top.word("name", "a title for people");
        Optional<String> edition = top.word("edition", "a year or version");
        Optional<String> base =
                top.has("based_on")
                        ? top.oneOf("based_on", List.copyOf(shipped.keySet()))
                        : Optional.empty();
        Map<String, Source> sources = sources(top);
        List<Rule> rules = rules(top, sources);
        if (nodes.mistaken()) {
            return Optional.empty();
        }
        Protocol own =
                new Protocol(id.orElseThrow(), name.orElseThrow(), edition.orElseThrow(), rules);
        return Optional.of(
                base.map(shipped::get).map(under -> under.overriddenBy(own)).orElse(own));
    }

    private static Map<String, Source> sources(Fields top) {
        Map<String, Source> sources = new LinkedHashMap<>();
        Optional<Fields> all = top.fields("sources", "the sources of the limits, each by a name");
        for (String name : all.map(Fields::keys).orElse(java.util.Set.of())) {
            all.get()
                    .fields(name, "citation, edition and address")
                    .flatMap(SourceFields::read)
                    .ifPresent(source -> sources.put(name, source));
        }
        return sources;
    }

    private List<Rule> rules(Fields top, Map<String, Source> sources) {
        List<Rule> rules = new ArrayList<>();
        Optional<Fields> points = top.fields("points", "the points, each with its limit");
        if (points.isEmpty()) {
            return rules;
        }
        points.get().allow(POINTS);
        for (String key : points.get().keys()) {
            Optional<Point> point = Point.ofKey(key);
            if (point.isPresent()) {
                points.get()
                        .fields(key, "a limit, a severity and a source")
                        .flatMap(fields -> rule(point.get(), fields, sources))
                        .ifPresent(rules::add);
            }
        }
        return rules;
    }

    private static Optional<Rule> rule(Point point, Fields fields, Map<String, Source> sources) {
        List<String> keys = new ArrayList<>(limitKeys(point.kind()));
        keys.addAll(List.of("severity", "source", "note"));
        fields.allow(keys);
        Optional<Limit> limit = limit(point, fields);
        Optional<String> severity = fields.oneOf("severity", SEVERITIES);
        Optional<String> source = fields.oneOf("source", List.copyOf(sources.keySet()));
        String note = fields.has("note") ? fields.word("note", "a sentence").orElse("") : "";
        if (limit.isEmpty() || severity.isEmpty() || source.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(
                new Rule(
                        point,
                        limit.get(),
                        Rule.Severity.valueOf(severity.get().toUpperCase(Locale.ROOT)),
                        sources.get(source.get()),
                        note));
    }

    private static List<String> limitKeys(Point.Kind kind) {
        return switch (kind) {
            case NUMBER -> List.of("least", "most");
            case YES_NO -> List.of("required");
            case CHOICE -> List.of("one_of");
        };
    }

    private static Optional<Limit> limit(Point point, Fields fields) {
        return switch (point.kind()) {
            case NUMBER -> range(point, fields);
            case YES_NO ->
                    fields.oneOf("required", List.of("yes")).map(yes -> new Limit.Required());
            case CHOICE -> {
                List<String> words = fields.words("one_of", point.choices());
                yield words.isEmpty() ? Optional.empty() : Optional.of(new Limit.OneOf(words));
            }
        };
    }

    private static Optional<Limit> range(Point point, Fields fields) {
        String expected = "a number of " + point.unit() + ", such as 300 or 0.5";
        if (!fields.has("least") && !fields.has("most")) {
            fields.wrong("least", expected + " here or under most");
            return Optional.empty();
        }
        OptionalDouble least = optionalNumber(fields, "least", expected);
        OptionalDouble most = optionalNumber(fields, "most", expected);
        if (fields.has("least") != least.isPresent() || fields.has("most") != most.isPresent()) {
            return Optional.empty();
        }
        if (least.isPresent() && most.isPresent() && least.getAsDouble() > most.getAsDouble()) {
            fields.wrong("least", "no more than most, which is " + most.getAsDouble());
            return Optional.empty();
        }
        return Optional.of(new Limit.Range(least, most));
    }

    private static OptionalDouble optionalNumber(Fields fields, String key, String expected) {
        return fields.has(key) ? fields.number(key, expected) : OptionalDouble.empty();
    }
}
