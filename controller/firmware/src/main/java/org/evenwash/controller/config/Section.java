package org.evenwash.controller.config;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.evenwash.controller.process.Range;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.NodeTuple;
import org.yaml.snakeyaml.nodes.ScalarNode;
import org.yaml.snakeyaml.nodes.SequenceNode;
import org.yaml.snakeyaml.nodes.Tag;

/**
 * A mapping in a YAML file, read key by key. A key that is absent takes its value from the shipped
 * file, so a default stands in one place only. What is wrong is collected, never thrown: a person
 * wants to hear of every mistake at once.
 */
final class Section {
    private final String path;
    private final int line;
    private final Map<String, Node> own = new LinkedHashMap<>();
    private final Map<String, Integer> keyLines = new LinkedHashMap<>();
    private final Section shipped;
    private final Mistakes mistakes;

    /**
     * @param shipped the same section of the shipped file, null while reading that very file or
     *     where it has no such section
     */
    Section(String path, Node node, Section shipped, Mistakes mistakes) {
        this.path = path;
        this.line = lineOf(node);
        this.shipped = shipped;
        this.mistakes = mistakes;
        if (node instanceof MappingNode mapping) {
            for (NodeTuple tuple : mapping.getValue()) {
                add(tuple);
            }
        } else if (!isNothing(node)) {
            mistakes.add(
                    line,
                    named() + " is a single value or a list",
                    "Write its keys below it, indented by two spaces");
        }
    }

    private void add(NodeTuple tuple) {
        int at = lineOf(tuple.getKeyNode());
        if (!(tuple.getKeyNode() instanceof ScalarNode name)) {
            mistakes.add(at, named() + " has a key that is not a word", "Write 'key: value'");
            return;
        }
        String key = name.getValue();
        Integer before = keyLines.putIfAbsent(key, at);
        if (before == null) {
            own.put(key, tuple.getValueNode());
        } else {
            mistakes.add(
                    at,
                    under(key) + " stands twice, first in line " + before,
                    "Keep one of the two");
        }
    }

    /** Reports every key that is not one of {@code known}, with the nearest known one. */
    void allowOnly(Collection<String> known) {
        for (String key : own.keySet()) {
            if (!known.contains(key)) {
                String remedy =
                        Spelling.nearest(key, known)
                                .map(near -> "Did you mean '" + near + "'?")
                                .orElse("Known here: " + String.join(", ", known));
                mistakes.add(lineOf(key), under(key) + " is not known", remedy);
            }
        }
    }

    /** Reports every key that the shipped file does not have in this section. */
    void allowOnlyShipped() {
        allowOnly(shipped.own.keySet());
    }

    /** Reports a key that earlier versions took, and takes it out, so that nothing else is said of it. */
    void noLonger(String key, String what, String remedy) {
        if (own.remove(key) != null) {
            mistake(key, what, remedy);
        }
    }

    Collection<String> keys() {
        return own.keySet();
    }

    boolean has(String key) {
        return own.containsKey(key);
    }

    /** Where the value of {@code key} stands; the section's line when it is not in this file. */
    int lineOf(String key) {
        return keyLines.getOrDefault(key, line);
    }

    String path() {
        return path;
    }

    /** True if the value is this single word, here or, where absent here, in the shipped file. */
    boolean isWord(String key, String word) {
        Node node = own.get(key);
        if (node == null) {
            return shipped != null && shipped.has(key) && shipped.isWord(key, word);
        }
        return node instanceof ScalarNode scalar && scalar.getValue().equals(word);
    }

    Section section(String key) {
        Section beneath = shipped == null || !shipped.has(key) ? null : shipped.section(key);
        return new Section(under(key), own.get(key), beneath, mistakes);
    }

    List<Section> sections(String key) {
        List<Section> all = new ArrayList<>();
        Node node = own.get(key);
        if (node instanceof SequenceNode sequence) {
            for (Node entry : sequence.getValue()) {
                all.add(
                        new Section(
                                under(key) + "[" + (all.size() + 1) + "]", entry, null, mistakes));
            }
        } else if (node != null) {
            mistakes.add(
                    lineOf(node),
                    under(key) + " is not a list",
                    "Write one entry a line, each begun with '- '");
        }
        return all;
    }

    String text(String key) {
        Node node = own.get(key);
        if (node == null) {
            return absent(key) ? "" : shipped.text(key);
        }
        if (node instanceof ScalarNode scalar) {
            return isNothing(node) ? "" : scalar.getValue();
        }
        mistakes.add(lineOf(key), under(key) + " is not a single value", "Write one value");
        return "";
    }

    String text(String key, String pattern, String expected) {
        String value = text(key);
        if (!value.matches(pattern)) {
            mistakes.add(
                    lineOf(key), under(key) + " reads '" + value + "'", "Expected " + expected);
        }
        return value;
    }

    double number(String key, double least, double most) {
        return number(key, new Range(least, most));
    }

    double number(String key, Range allowed) {
        return number(key, allowed, "");
    }

    /**
     * @param why the reason for the range; empty where it needs none
     */
    private double number(String key, Range allowed, String why) {
        if (!has(key) && absent(key)) {
            return allowed.least();
        }
        String written = text(key);
        try {
            double value =
                    written.startsWith("0x")
                            ? Integer.parseInt(written.substring(2), 16)
                            : Double.parseDouble(written);
            if (allowed.holds(value)) {
                return value;
            }
            mistakes.add(
                    lineOf(key),
                    under(key) + " is " + written,
                    "Expected " + allowed + (why.isEmpty() ? "" : ": " + why));
        } catch (NumberFormatException e) {
            mistakes.add(
                    lineOf(key),
                    under(key) + " reads '" + written + "', which is not a number",
                    "Expected a plain number from " + allowed);
        }
        return allowed.least();
    }

    /**
     * @param unit in which the key's number counts
     * @param allowed_s in seconds
     */
    Duration duration(String key, Duration unit, Range allowed_s) {
        double number = number(key, allowed_s.per((double) unit.toSeconds()));
        return Duration.ofMillis(Math.round(number * unit.toMillis()));
    }

    int whole(String key, int least, int most) {
        return whole(key, new Range(least, most));
    }

    int whole(String key, Range allowed) {
        return whole(key, allowed, "");
    }

    /**
     * @param why the reason for the range; empty where it needs none
     */
    int whole(String key, Range allowed, String why) {
        double value = number(key, allowed, why);
        if (value != Math.rint(value)) {
            mistakes.add(
                    lineOf(key),
                    under(key) + " is " + text(key),
                    "Expected a whole number from " + allowed);
        }
        return (int) value;
    }

    boolean yesNo(String key) {
        if (!has(key) && absent(key)) {
            return false;
        }
        String written = text(key);
        if (!written.equals("true") && !written.equals("false")) {
            mistakes.add(
                    lineOf(key), under(key) + " reads '" + written + "'", "Write true or false");
        }
        return written.equals("true");
    }

    <E extends Enum<E>> E choice(String key, Class<E> kind) {
        E[] constants = kind.getEnumConstants();
        if (!has(key) && absent(key)) {
            return constants[0];
        }
        String written = text(key);
        for (E constant : constants) {
            if (word(constant).equals(written)) {
                return constant;
            }
        }
        mistakes.add(
                lineOf(key),
                under(key) + " reads '" + written + "'",
                "Write one of: "
                        + Arrays.stream(constants)
                                .map(Section::word)
                                .collect(Collectors.joining(", ")));
        return constants[0];
    }

    void mistake(String key, String what, String remedy) {
        mistakes.add(lineOf(key), under(key) + " " + what, remedy);
    }

    /** True, and reported, when neither this file nor the shipped one has the key. */
    private boolean absent(String key) {
        if (shipped != null && shipped.has(key)) {
            return false;
        }
        mistakes.add(line, under(key) + " is missing", "Add it");
        return true;
    }

    private String named() {
        return path.isEmpty() ? "the file" : path;
    }

    private String under(String key) {
        return path.isEmpty() ? key : path + "." + key;
    }

    private static String word(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT);
    }

    private static boolean isNothing(Node node) {
        return node == null || node.getTag().equals(Tag.NULL);
    }

    private static int lineOf(Node node) {
        return node == null ? 0 : node.getStartMark().getLine() + 1;
    }
}
