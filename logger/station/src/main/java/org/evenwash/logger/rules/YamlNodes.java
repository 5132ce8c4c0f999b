package org.evenwash.logger.rules;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.error.MarkedYAMLException;
import org.yaml.snakeyaml.error.YAMLException;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.NodeTuple;
import org.yaml.snakeyaml.nodes.ScalarNode;
import org.yaml.snakeyaml.nodes.SequenceNode;

/**
 * A YAML file as nodes that know their lines, and the mistakes found in it so far. Works on nodes
 * rather than on bound objects, because binding stops at the first mistake and forgets the line.
 */
final class YamlNodes {
    private static final int MOST_CHARACTERS = 200_000;

    private final String file;
    private final List<Mistake> mistakes = new ArrayList<>();

    YamlNodes(String file) {
        this.file = file;
    }

    /** A mapping's entries in order, each with the path that leads to it. */
    final class Fields {
        private final String path;
        private final int line;
        private final Map<String, Node> nodes = new LinkedHashMap<>();

        private Fields(String path, MappingNode mapping) {
            this.path = path;
            this.line = line(mapping);
            for (NodeTuple tuple : mapping.getValue()) {
                String key = tuple.getKeyNode() instanceof ScalarNode s ? s.getValue() : "?";
                if (nodes.put(key, tuple.getValueNode()) != null) {
                    mistake(tuple.getKeyNode(), path(key), key, "each key once");
                }
            }
        }

        Set<String> keys() {
            return nodes.keySet();
        }

        boolean has(String key) {
            return nodes.containsKey(key);
        }

        String path(String key) {
            return path.isEmpty() ? key : path + "." + key;
        }

        /** Marks every key that is not one of these. */
        void allow(List<String> known) {
            nodes.forEach(
                    (key, node) -> {
                        if (!known.contains(key)) {
                            mistake(node, path(key), text(node), "one of the keys " + known);
                        }
                    });
        }

        Optional<String> word(String key, String expected) {
            Node node = nodes.get(key);
            if (node instanceof ScalarNode scalar && !scalar.getValue().isBlank()) {
                return Optional.of(scalar.getValue());
            }
            wrong(key, expected);
            return Optional.empty();
        }

        Optional<String> oneOf(String key, List<String> choices) {
            Optional<String> word = word(key, "one of " + choices);
            if (word.isPresent() && !choices.contains(word.get())) {
                wrong(key, "one of " + choices);
                return Optional.empty();
            }
            return word;
        }

        OptionalDouble number(String key, String expected) {
            Optional<String> word = word(key, expected);
            if (word.isEmpty()) {
                return OptionalDouble.empty();
            }
            try {
                double number = Double.parseDouble(word.get());
                if (Double.isFinite(number)) {
                    return OptionalDouble.of(number);
                }
            } catch (NumberFormatException notANumber) {
                // Falls through to the one place that reports it.
            }
            wrong(key, expected);
            return OptionalDouble.empty();
        }

        List<String> words(String key, List<String> choices) {
            List<String> words = new ArrayList<>();
            if (nodes.get(key) instanceof SequenceNode sequence) {
                for (Node item : sequence.getValue()) {
                    if (choices.contains(text(item))) {
                        words.add(text(item));
                    } else {
                        mistake(item, path(key), text(item), "one of " + choices);
                    }
                }
            }
            if (words.isEmpty()) {
                wrong(key, "a list of one or more of " + choices);
            }
            return words;
        }

        Optional<Fields> fields(String key, String expected) {
            if (nodes.get(key) instanceof MappingNode mapping) {
                return Optional.of(new Fields(path(key), mapping));
            }
            wrong(key, expected);
            return Optional.empty();
        }

        void wrong(String key, String expected) {
            Node node = nodes.get(key);
            mistakes.add(
                    new Mistake(
                            file,
                            node == null ? line : line(node),
                            path(key),
                            node == null ? "" : text(node),
                            expected));
        }
    }

    /** The file's outermost mapping; a file that is no YAML is one mistake. */
    Optional<Fields> open(String text) {
        if (text.length() > MOST_CHARACTERS) {
            mistakes.add(
                    new Mistake(
                            file,
                            1,
                            "",
                            text.length() + " characters",
                            "at most " + MOST_CHARACTERS + " characters"));
            return Optional.empty();
        }
        try {
            Node root = new Yaml(new LoaderOptions()).compose(new java.io.StringReader(text));
            if (root instanceof MappingNode mapping) {
                return Optional.of(new Fields("", mapping));
            }
            mistakes.add(new Mistake(file, 1, "", "", "keys and values, as in the shipped files"));
        } catch (MarkedYAMLException broken) {
            int line = broken.getProblemMark() == null ? 1 : broken.getProblemMark().getLine() + 1;
            mistakes.add(new Mistake(file, line, "", "", "YAML: " + broken.getProblem()));
        } catch (YAMLException broken) {
            mistakes.add(new Mistake(file, 1, "", "", "YAML: " + broken.getMessage()));
        }
        return Optional.empty();
    }

    void refuseIfMistaken() throws RuleFileException {
        if (!mistakes.isEmpty()) {
            throw new RuleFileException(mistakes);
        }
    }

    boolean mistaken() {
        return !mistakes.isEmpty();
    }

    private void mistake(Node node, String path, String value, String expected) {
        mistakes.add(new Mistake(file, line(node), path, value, expected));
    }

    private static int line(Node node) {
        return node.getStartMark().getLine() + 1;
    }

    private static String text(Node node) {
        if (node instanceof ScalarNode scalar) {
            return scalar.getValue().isBlank() ? "nothing" : scalar.getValue();
        }
        return node instanceof SequenceNode ? "a list" : "keys and values";
    }
}
