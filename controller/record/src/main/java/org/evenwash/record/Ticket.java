package org.evenwash.record;

import com.fasterxml.jackson.annotation.JsonProperty;
import java.time.Instant;
import java.util.UUID;

/**
 * One wash to be run at one jar position, sent by the logger. A ticket prepares a bench; it can
 * never start motion. The bench answers with TICKET_ACCEPTED or TICKET_REFUSED.
 *
 * @param recipe the whole recipe, null when withdrawing
 * @param spirit what the jar holds, null if unknown: the bench then takes its cautious value
 */
public record Ticket(
        String schema,
        UUID ticketId,
        String benchId,
        Instant issuedAt,
        Action action,
        int position,
        UUID washId,
        Pass pass,
        String colony,
        String operator,
        RecipeSheet recipe,
        Spirit spirit)
        implements Message {

    public static final String SCHEMA = "ticket/1.0";

    public enum Action {
        @JsonProperty("load")
        LOAD,
        @JsonProperty("withdraw")
        WITHDRAW
    }

    /**
     * @param flashPoint_C the cautious (lower) value
     */
    public record Spirit(String kind, Double strength_pctVol, Double flashPoint_C) {
        public Spirit {
            Check.optionalText("kind", kind);
            Check.optionalRange("strength_pctVol", strength_pctVol, 0, 100);
            Check.optionalRange("flashPoint_C", flashPoint_C, -50, 200);
        }
    }

    public Ticket {
        SchemaVersion.check(schema, "ticket");
        Check.present("ticketId", ticketId);
        Check.benchId(benchId);
        Check.present("issuedAt", issuedAt);
        Check.present("action", action);
        Check.range("position", position, 1, Position.MOST);
        Check.optionalText("colony", colony);
        Check.optionalText("operator", operator);
        if (action == Action.LOAD) {
            Check.present("washId", washId);
            Check.present("pass", pass);
            Check.present("recipe", recipe);
        }
    }
}
