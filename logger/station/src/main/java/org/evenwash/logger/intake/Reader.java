package org.evenwash.logger.intake;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.LiveReading;
import org.evenwash.record.Messages;
import org.evenwash.record.Topics;
import org.evenwash.record.UnreadableMessage;

/** Reads payloads by the contract, and holds each message to the bench whose topic it came on. */
final class Reader {
    private static final ObjectMapper LENIENT = new ObjectMapper();

    private Reader() {}

    static Reading read(String topic, Payload payload) {
        Optional<Topics.Address> address = Topics.parse(topic);
        if (address.isEmpty()) {
            return unreadable(topic, payload, null, "came on a topic that is not ours");
        }
        String benchId = address.get().benchId();
        try {
            return switch (address.get().kind()) {
                case CYCLE -> {
                    CycleRecord record = Messages.read(payload.bytes(), CycleRecord.class);
                    yield checked(
                            topic,
                            payload,
                            benchId,
                            record.benchId(),
                            new Reading.Cycle(topic, payload, payload.sha256(), record));
                }
                case EVENT -> {
                    BenchEvent event = Messages.read(payload.bytes(), BenchEvent.class);
                    yield checked(
                            topic,
                            payload,
                            benchId,
                            event.benchId(),
                            new Reading.Event(topic, payload, payload.sha256(), event));
                }
                case STATE -> {
                    BenchState state = Messages.read(payload.bytes(), BenchState.class);
                    yield checked(
                            topic,
                            payload,
                            benchId,
                            state.benchId(),
                            new Reading.State(topic, payload, state));
                }
                case LIVE -> {
                    LiveReading live = Messages.read(payload.bytes(), LiveReading.class);
                    yield checked(
                            topic,
                            payload,
                            benchId,
                            live.benchId(),
                            new Reading.Live(topic, payload, live));
                }
                case TICKET, COMMAND, RECEIPT ->
                        unreadable(topic, payload, benchId, "came on a topic that benches read");
            };
        } catch (UnreadableMessage e) {
            return unreadable(topic, payload, benchId, e.getMessage());
        }
    }

    private static Reading checked(
            String topic, Payload payload, String topicBench, String ownBench, Reading reading) {
        return topicBench.equals(ownBench)
                ? reading
                : unreadable(
                        topic,
                        payload,
                        topicBench,
                        "benchId reads '"
                                + ownBench
                                + "' on the topic of bench '"
                                + topicBench
                                + "'");
    }

    private static Reading unreadable(
            String topic, Payload payload, String benchId, String reason) {
        return new Reading.Unreadable(
                topic, payload, payload.sha256(), benchId, messageId(payload), reason);
    }

    /** Its id, if the payload can be read that far: then even a message set aside gets its receipt. */
    static UUID messageId(Payload payload) {
        if (payload.size_bytes() > 4 * Messages.MOST_BYTES) {
            return null;
        }
        try {
            JsonNode root = LENIENT.readTree(payload.bytes());
            for (String field : new String[] {"eventId", "cycleId"}) {
                JsonNode id = root == null ? null : root.get(field);
                if (id != null && id.isTextual()) {
                    return UUID.fromString(id.textValue());
                }
            }
            return null;
        } catch (JsonProcessingException | IllegalArgumentException e) {
            return null; // it has no id that a receipt could name
        } catch (IOException e) {
            throw new IllegalStateException("a byte array cannot fail to be read", e);
        }
    }
}
