package org.evenwash.controller.config;

import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.error.MarkedYAMLException;
import org.yaml.snakeyaml.error.YAMLException;
import org.yaml.snakeyaml.nodes.Node;

/** Text of a YAML file to its nodes, which know the line they came from. */
final class YamlFile {
    private static final long MOST_BYTES = 256 * 1024;

    private YamlFile() {}

    /** Text of a file that ships with the program. */
    static String shipped(String name) {
        try (InputStream in = YamlFile.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IllegalStateException("the program lacks its own file " + name);
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read the program's own file " + name, e);
        }
    }

    /**
     * Text of a person's file.
     *
     * @throws MistakenFile if it cannot be read as text
     */
    static String text(Path file) throws MistakenFile {
        try {
            if (Files.size(file) > MOST_BYTES) {
                throw mistaken(
                        file, "is larger than 256 KiB", "Check that this is the file you meant");
            }
            return Files.readString(file, StandardCharsets.UTF_8);
        } catch (NoSuchFileException e) {
            throw mistaken(
                    file,
                    "does not exist",
                    "Make one: evenwash-controller config --print-default > " + file);
        } catch (CharacterCodingException e) {
            throw mistaken(file, "is not UTF-8 text", "Save it as UTF-8");
        } catch (IOException e) {
            throw mistaken(
                    file,
                    "cannot be read (" + e.getMessage() + ")",
                    "Check that it is a file and that this user may read it");
        }
    }

    /** Nodes of {@code text}; null for an empty file, or, reported, for one that is not YAML. */
    static Node nodes(String text, Mistakes mistakes) {
        LoaderOptions options = new LoaderOptions();
        options.setMaxAliasesForCollections(0);
        options.setNestingDepthLimit(10);
        try {
            return new Yaml(options).compose(new StringReader(text));
        } catch (MarkedYAMLException e) {
            int line = e.getProblemMark() == null ? 0 : e.getProblemMark().getLine() + 1;
            mistakes.add(
                    line,
                    "this is not YAML: " + e.getProblem(),
                    "Look at the indentation (spaces, no tabs), colons and quotes here and in the line before");
            return null;
        } catch (YAMLException e) {
            mistakes.add(0, "this is not YAML: " + e.getMessage(), "Start from the shipped file");
            return null;
        }
    }

    private static MistakenFile mistaken(Path file, String what, String remedy) {
        return new MistakenFile(
                List.of(new Mistake(file.toString(), 0, "the file " + what, remedy)));
    }
}
