package org.evenwash.logger.rules;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.threshold.Threshold;

/** The protocols and thresholds that ship, and a keeper's own. */
public final class Rules {
    private static final List<String> PROTOCOLS =
            List.of("coloss-beebook-2013.yaml", "agriculture-victoria.yaml");
    private static final String THRESHOLDS = "thresholds.yaml";

    private Rules() {}

    /** By short name, in the order in which they are offered. */
    public static Map<String, Protocol> shippedProtocols() {
        Map<String, Protocol> protocols = new LinkedHashMap<>();
        for (String file : PROTOCOLS) {
            try {
                Protocol protocol = ProtocolFile.read(file, shipped(file), Map.of());
                protocols.put(protocol.id(), protocol);
            } catch (RuleFileException broken) {
                throw new IllegalStateException("a shipped file is broken", broken);
            }
        }
        return protocols;
    }

    /** Names of the shipped files, whose heads explain how one's own are written. */
    public static List<String> shippedFiles() {
        return Stream.concat(PROTOCOLS.stream(), Stream.of(THRESHOLDS)).toList();
    }

    /** A shipped file as it stands; empty for any other name. */
    public static Optional<String> shippedFile(String name) {
        return shippedFiles().contains(name) ? Optional.of(shipped(name)) : Optional.empty();
    }

    /** By short name. None is ever chosen for a keeper. */
    public static Map<String, Threshold> shippedThresholds() {
        try {
            return ThresholdFile.read(THRESHOLDS, shipped(THRESHOLDS));
        } catch (RuleFileException broken) {
            throw new IllegalStateException("a shipped file is broken", broken);
        }
    }

    /**
     * A keeper's own protocol, on top of a shipped one if it says so.
     *
     * @throws RuleFileException with every mistake in the file
     * @throws UncheckedIOException naming the file if it cannot be read
     */
    public static Protocol ownProtocol(Path file) throws RuleFileException {
        return ProtocolFile.read(name(file), text(file), shippedProtocols());
    }

    /** A keeper's own thresholds; see {@link #ownProtocol} for what is thrown. */
    public static Map<String, Threshold> ownThresholds(Path file) throws RuleFileException {
        return ThresholdFile.read(name(file), text(file));
    }

    private static String name(Path file) {
        return String.valueOf(file.getFileName());
    }

    private static String text(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException unreadable) {
            throw new UncheckedIOException("cannot read the rule file " + file, unreadable);
        }
    }

    private static String shipped(String file) {
        try (InputStream stream = Rules.class.getResourceAsStream("/rules/" + file)) {
            return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException unreadable) {
            throw new UncheckedIOException("cannot read the shipped file " + file, unreadable);
        }
    }
}
