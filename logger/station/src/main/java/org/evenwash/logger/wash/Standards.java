package org.evenwash.logger.wash;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.protocol.Rule;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.rules.Rules;
import org.evenwash.logger.store.EditionChoice;
import org.evenwash.logger.store.EditionChoices;
import org.evenwash.logger.store.Json;
import org.jdbi.v3.core.Handle;

/**
 * What washes are judged by: the protocol they are held against, and the threshold that the keeper has
 * chosen. A threshold is never chosen for anybody: without one there is no verdict.
 */
public final class Standards {
    private final Desk desk;
    private final Map<String, Protocol> protocols = Rules.shippedProtocols();
    private final Map<String, Threshold> thresholds = Rules.shippedThresholds();

    Standards(Desk desk) {
        this.desk = desk;
    }

    /** By short name, in the order in which they are offered. */
    public Map<String, Protocol> protocols() {
        return protocols;
    }

    /** By short name. */
    public Map<String, Threshold> thresholds() {
        return thresholds;
    }

    /** @param apiaryId null for the whole station */
    public void chooseProtocol(String id, UUID apiaryId, By by) {
        Protocol protocol = known("protocol", protocols, id);
        choose(
                EditionChoice.Kind.PROTOCOL,
                id,
                protocol.edition(),
                content(protocol),
                apiaryId,
                by);
    }

    /** @param apiaryId null for the whole station */
    public void chooseThreshold(String id, UUID apiaryId, By by) {
        Threshold threshold = known("threshold", thresholds, id);
        choose(
                EditionChoice.Kind.THRESHOLD,
                id,
                threshold.source().edition(),
                threshold,
                apiaryId,
                by);
    }

    /** From now on there is no verdict, for that apiary or (null) for the whole station. */
    public void dropThreshold(UUID apiaryId, By by) {
        desk.once(
                by,
                "drop a threshold",
                UUID.randomUUID(),
                handle ->
                        EditionChoices.end(
                                handle, EditionChoice.Kind.THRESHOLD, apiaryId, desk.now()));
    }

    private static <T> T known(String what, Map<String, T> all, String id) {
        T one = all.get(Entry.present(what, id));
        if (one == null) {
            throw Refused.invalid(
                    what, "'" + id + "' is not known", "choose one of " + all.keySet());
        }
        return one;
    }

    /** Each point in words, so that it can be read long after the files have moved on. */
    private static Map<String, Object> content(Protocol protocol) {
        return Map.of(
                "id", protocol.id(),
                "name", protocol.name(),
                "edition", protocol.edition(),
                "points", protocol.rules().stream().map(Standards::content).toList());
    }

    private static Map<String, Object> content(Rule rule) {
        return Map.of(
                "point", rule.point().key(),
                "asked", rule.limit().words(rule.point()),
                "severity", rule.severity(),
                "source", rule.source(),
                "note", rule.note());
    }

    private void choose(
            EditionChoice.Kind kind,
            String key,
            String edition,
            Object content,
            UUID apiaryId,
            By by) {
        EditionChoice choice =
                new EditionChoice(
                        UUID.randomUUID(),
                        kind,
                        apiaryId,
                        key,
                        edition,
                        Json.write(content),
                        desk.now(),
                        by.operatorId(),
                        null);
        desk.once(
                by,
                "choose a " + kind,
                choice.id(),
                handle -> {
                    if (apiaryId != null) {
                        Yard.apiary(handle, apiaryId);
                    }
                    EditionChoices.end(handle, kind, apiaryId, desk.now());
                    EditionChoices.insert(handle, choice);
                });
    }

    /** All choices that were ever made, newest first. */
    public List<EditionChoice> history() {
        return desk.read(EditionChoices::history);
    }

    /** The protocol in use; until one is chosen, the first that ships. */
    public Protocol protocol(UUID apiaryId) {
        return desk.read(handle -> protocol(handle, apiaryId));
    }

    Protocol protocol(Handle handle, UUID apiaryId) {
        return EditionChoices.inUse(handle, EditionChoice.Kind.PROTOCOL, apiaryId)
                .map(choice -> protocols.get(choice.key()))
                .orElseGet(() -> protocols.values().iterator().next());
    }

    /** The threshold in use, empty until one is chosen. */
    public Optional<Threshold> threshold(UUID apiaryId) {
        return desk.read(handle -> threshold(handle, apiaryId));
    }

    Optional<Threshold> threshold(Handle handle, UUID apiaryId) {
        return EditionChoices.inUse(handle, EditionChoice.Kind.THRESHOLD, apiaryId)
                .map(choice -> thresholds.get(choice.key()));
    }
}
