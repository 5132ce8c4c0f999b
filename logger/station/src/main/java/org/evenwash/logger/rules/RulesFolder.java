package org.evenwash.logger.rules;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.threshold.Threshold;

/**
 * What ships, and a keeper's own protocol and threshold files from a folder, read again whenever a
 * file there changes. A file with a mistake in it is left out as a whole and its mistakes are kept.
 */
public final class RulesFolder {
    /** More files than anybody writes; the rest is told of and not read. */
    static final int MOST_FILES = 100;

    /** Larger ones are no rule files. */
    static final long MOST_BYTES = 200_000;

    private static final Pattern THRESHOLDS = Pattern.compile("(?m)^thresholds\\s*:");

    private final Path folder;
    private List<Stamp> seen;
    private OnOffer onOffer;

    /**
     * @param protocols by short name: shipped ones, then own ones
     * @param thresholds by short name, likewise
     * @param mistakes of files that were left out
     */
    public record OnOffer(
            Map<String, Protocol> protocols,
            Map<String, Threshold> thresholds,
            List<Mistake> mistakes) {}

    private record Stamp(String name, long modified_ms, long size) {}

    /** @param folder need not be there; null for none */
    public RulesFolder(Path folder) {
        this.folder = folder;
    }

    /** Where own files go; null for nowhere. */
    public Path folder() {
        return folder;
    }

    /** All that can be chosen now. */
    public synchronized OnOffer onOffer() {
        List<Stamp> now = stamps();
        if (onOffer == null || !now.equals(seen)) {
            onOffer = read(now);
            seen = now;
        }
        return onOffer;
    }

    private List<Stamp> stamps() {
        List<Stamp> stamps = new ArrayList<>();
        if (folder == null || !Files.isDirectory(folder)) {
            return stamps;
        }
        try (DirectoryStream<Path> files = Files.newDirectoryStream(folder, "*.{yaml,yml}")) {
            for (Path file : files) {
                stamps.add(
                        new Stamp(
                                String.valueOf(file.getFileName()),
                                Files.getLastModifiedTime(file).toMillis(),
                                Files.size(file)));
            }
        } catch (IOException e) {
            throw new UncheckedIOException("cannot look into the rules folder " + folder, e);
        }
        stamps.sort((a, b) -> a.name().compareTo(b.name()));
        return stamps;
    }

    private OnOffer read(List<Stamp> stamps) {
        OnOffer all =
                new OnOffer(
                        new LinkedHashMap<>(Rules.shippedProtocols()),
                        new LinkedHashMap<>(Rules.shippedThresholds()),
                        new ArrayList<>());
        for (int i = 0; i < stamps.size(); i++) {
            Stamp stamp = stamps.get(i);
            if (i >= MOST_FILES) {
                all.mistakes().add(whole(stamp, "at most " + MOST_FILES + " rule files"));
            } else if (stamp.size() > MOST_BYTES) {
                all.mistakes().add(whole(stamp, "a rule file of at most " + MOST_BYTES + " bytes"));
            } else {
                add(stamp, all);
            }
        }
        return all;
    }

    private void add(Stamp stamp, OnOffer all) {
        Path file = folder.resolve(stamp.name());
        try {
            if (THRESHOLDS.matcher(Files.readString(file)).find()) {
                Rules.ownThresholds(file)
                        .forEach((id, own) -> offer(stamp, id, own, all.thresholds(), all));
            } else {
                Protocol own = Rules.ownProtocol(file);
                offer(stamp, own.id(), own, all.protocols(), all);
            }
        } catch (RuleFileException mistaken) {
            all.mistakes().addAll(mistaken.mistakes());
        } catch (IOException | UncheckedIOException unreadable) {
            all.mistakes().add(whole(stamp, "a readable text file in UTF-8"));
        }
    }

    private static <T> void offer(
            Stamp stamp, String id, T own, Map<String, T> known, OnOffer all) {
        if (known.putIfAbsent(id, own) != null) {
            all.mistakes()
                    .add(
                            new Mistake(
                                    stamp.name(),
                                    1,
                                    "the short name",
                                    id,
                                    "one that is not taken yet"));
        }
    }

    private static Mistake whole(Stamp stamp, String expected) {
        return new Mistake(stamp.name(), 1, "", "", expected);
    }
}
