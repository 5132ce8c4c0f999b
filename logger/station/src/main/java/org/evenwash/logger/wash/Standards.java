package org.evenwash.logger.wash;

import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.rules.Mistake;
import org.evenwash.logger.rules.RulesFolder;
import org.evenwash.logger.store.EditionChoice;
import org.evenwash.logger.store.EditionChoices;
import org.evenwash.logger.store.Json;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;

/**
 * What washes are judged by: the protocol they are held against, and the threshold that the keeper has
 * chosen. A threshold is never chosen for anybody: without one there is no verdict.
 */
public final class Standards {
    private final Desk desk;
    private final RulesFolder rules;

    Standards(Desk desk, RulesFolder rules) {
        this.desk = desk;
        this.rules = rules;
    }

    /** By short name, shipped ones first. */
    public Map<String, Protocol> protocols() {
        return rules.onOffer().protocols();
    }

    /** By short name, shipped ones first. */
    public Map<String, Threshold> thresholds() {
        return rules.onOffer().thresholds();
    }

    /** What is wrong in the keeper's own rule files; a file named here is not on offer. */
    public List<Mistake> mistakes() {
        return rules.onOffer().mistakes();
    }

    /** Where the keeper's own rule files go; empty where there is no such folder. */
    public Optional<Path> rulesFolder() {
        return Optional.ofNullable(rules.folder());
    }

    /** @param apiaryId null for the whole station */
    public void chooseProtocol(String id, UUID apiaryId, By by) {
        Protocol protocol = known("protocol", protocols(), id);
        choose(
                EditionChoice.Kind.PROTOCOL,
                id,
                protocol.edition(),
                KeptRules.content(protocol),
                apiaryId,
                by);
    }

    /** @param apiaryId null for the whole station */
    public void chooseThreshold(String id, UUID apiaryId, By by) {
        Threshold threshold = known("threshold", thresholds(), id);
        choose(
                EditionChoice.Kind.THRESHOLD,
                id,
                threshold.source().edition(),
                threshold,
                apiaryId,
                by);
    }

    private static Object named(UUID apiaryId) {
        return apiaryId == null ? "the whole station" : apiaryId;
    }

    /** From now on there is no verdict, for that apiary or (null) for the whole station. */
    public void dropThreshold(UUID apiaryId, By by) {
        desk.onceAt(
                by,
                "drop the threshold of",
                named(apiaryId),
                Ids.next(),
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

    private void choose(
            EditionChoice.Kind kind,
            String key,
            String edition,
            Object content,
            UUID apiaryId,
            By by) {
        EditionChoice choice =
                new EditionChoice(
                        Ids.next(),
                        kind,
                        apiaryId,
                        key,
                        edition,
                        Json.write(content),
                        desk.now(),
                        by.operatorId(),
                        null);
        desk.onceAt(
                by,
                "choose a " + kind + " for",
                named(apiaryId),
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

    /**
     * The protocol in use, as it read when it was chosen; until one is chosen, the first that ships.
     */
    public Protocol protocol(UUID apiaryId) {
        return desk.read(handle -> protocol(handle, apiaryId));
    }

    Protocol protocol(Handle handle, UUID apiaryId) {
        Map<String, Protocol> known = protocols();
        return EditionChoices.inUse(handle, EditionChoice.Kind.PROTOCOL, apiaryId)
                .flatMap(
                        choice ->
                                KeptRules.protocol(choice.contentJson())
                                        .or(() -> Optional.ofNullable(known.get(choice.key()))))
                .orElseGet(() -> known.values().iterator().next());
    }

    /** The threshold in use, as it read when it was chosen; empty until one is chosen. */
    public Optional<Threshold> threshold(UUID apiaryId) {
        return desk.read(handle -> threshold(handle, apiaryId));
    }

    Optional<Threshold> threshold(Handle handle, UUID apiaryId) {
        return EditionChoices.inUse(handle, EditionChoice.Kind.THRESHOLD, apiaryId)
                .map(Standards::threshold);
    }

    private static Threshold threshold(EditionChoice choice) {
        return Json.read(choice.contentJson(), Threshold.class);
    }

    /** The thresholds in use of many apiaries at once. */
    public Function<UUID, Optional<Threshold>> thresholdsInUse() {
        Map<UUID, Threshold> own = new HashMap<>();
        Threshold[] station = new Threshold[1];
        for (EditionChoice choice :
                desk.read(
                        handle -> EditionChoices.allInUse(handle, EditionChoice.Kind.THRESHOLD))) {
            if (choice.apiaryId() == null) {
                station[0] = threshold(choice);
            } else {
                own.put(choice.apiaryId(), threshold(choice));
            }
        }
        return apiaryId -> Optional.ofNullable(own.getOrDefault(apiaryId, station[0]));
    }

    /**
     * Whether a file on offer reads otherwise than what is in use under the same short name: the choice
     * holds until it is made again.
     */
    public boolean differsFromFile(Threshold inUse) {
        Threshold now = thresholds().get(inUse.id());
        return now != null && !now.equals(inUse);
    }

    /** As {@link #differsFromFile(Threshold)}. */
    public boolean differsFromFile(Protocol inUse) {
        Protocol now = protocols().get(inUse.id());
        return now != null && !now.equals(inUse);
    }
}
