package org.evenwash.controller;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.evenwash.controller.config.RecipeSheets;
import org.evenwash.controller.process.Job;
import org.evenwash.controller.process.Pass;
import org.evenwash.controller.process.Position;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Settings;
import org.evenwash.record.BenchState.LoadedTicket;
import org.evenwash.record.PlainText;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.Ticket;

/**
 * Where tickets lie until they are run, and which recipe is chosen when there is none. Tickets come
 * in on the broker's thread; the scan only reads {@link #job}. Laying one down moves nothing.
 */
final class Desk {
    /** Tickets that were run, so that one offered again is not run again. */
    private static final int MOST_USED = 500;

    private final String benchId;
    private final Settings settings;
    private final Map<Integer, Laid> laid = new TreeMap<>();
    private final Map<UUID, UUID> usedInCycle = new LinkedHashMap<>();
    private Recipe chosen;
    private volatile Job job = Job.NONE;
    private volatile List<LoadedTicket> tickets = List.of();
    private volatile List<LoadedTicket> underWay = List.of();
    private volatile RecipeSheet sheet;

    private record Laid(Ticket ticket, Recipe recipe) {}

    /**
     * What became of a ticket.
     *
     * @param accepted false when refused
     * @param news false when the same was answered before
     */
    record Answer(boolean accepted, boolean news, String text) {}

    Desk(String benchId, Settings settings, Recipe chosen) {
        this.benchId = benchId;
        this.settings = settings;
        this.chosen = chosen;
        settle();
    }

    Job job() {
        return job;
    }

    List<LoadedTicket> tickets() {
        return tickets;
    }

    /** Tickets of the cycle under way, or else those that the next start would run. */
    List<LoadedTicket> tickets(boolean inCycle) {
        return inCycle ? underWay : tickets;
    }

    /** The same in words, one a line. */
    List<String> words(boolean inCycle) {
        return tickets(inCycle).stream()
                .map(
                        t ->
                                "position %d: %s, %s pass"
                                        .formatted(
                                                t.position(),
                                                named(t.colony()),
                                                t.pass().name().toLowerCase(Locale.ROOT)))
                .toList();
    }

    private static String named(String colony) {
        return colony == null ? "colony not named" : PlainText.of(colony);
    }

    /** The recipe that a start would run, as it travels. */
    RecipeSheet sheet() {
        return sheet;
    }

    /** Picks the recipe to run without a ticket. */
    synchronized void choose(Recipe recipe) {
        chosen = recipe;
        settle();
    }

    synchronized Answer load(Ticket ticket) {
        Laid there = laid.get(ticket.position());
        if (there != null && there.ticket().ticketId().equals(ticket.ticketId())) {
            return new Answer(true, false, "Ticket is loaded already.");
        }
        Recipe recipe = RecipeSheets.recipe(ticket.recipe());
        String refusal = refusal(ticket, recipe, there);
        if (refusal != null) {
            return new Answer(false, true, refusal);
        }
        laid.put(ticket.position(), new Laid(ticket, recipe));
        settle();
        return new Answer(
                true,
                true,
                "Position %d: %s, %s pass, recipe %s version %d. Press START at the bench."
                        .formatted(
                                ticket.position(),
                                named(ticket.colony()),
                                ticket.pass().name().toLowerCase(Locale.ROOT),
                                PlainText.of(recipe.name()),
                                recipe.version()));
    }

    private String refusal(Ticket ticket, Recipe recipe, Laid there) {
        if (!ticket.benchId().equals(benchId)) {
            return "The ticket is for bench %s; this is %s.".formatted(ticket.benchId(), benchId);
        }
        if (ticket.position() > settings.positions()) {
            return "The ticket is for position %d; this bench has %d."
                    .formatted(ticket.position(), settings.positions());
        }
        UUID cycle = usedInCycle.get(ticket.ticketId());
        if (cycle != null) {
            return "The ticket was run already, in cycle %s. Issue a new one to wash again."
                    .formatted(cycle);
        }
        if (there != null) {
            return "Position %d has another ticket loaded. Withdraw that first."
                    .formatted(ticket.position());
        }
        List<String> mistakes = recipe.mistakes(settings.limits().fastest_rpm());
        if (!mistakes.isEmpty()) {
            return "This bench cannot run the recipe: %s.".formatted(String.join("; ", mistakes));
        }
        if (recipe.total().compareTo(settings.limits().longestCycle()) > 0) {
            return "The recipe lasts %d s; this bench runs at most %d s."
                    .formatted(
                            recipe.total().toSeconds(),
                            settings.limits().longestCycle().toSeconds());
        }
        for (Laid other : laid.values()) {
            if (!other.ticket().recipe().hash().equals(ticket.recipe().hash())) {
                return "Position %d is loaded with another recipe, and all jars turn together."
                        .formatted(other.ticket().position());
            }
        }
        return null;
    }

    synchronized Answer withdraw(Ticket ticket) {
        Laid there = laid.get(ticket.position());
        if (there == null || !there.ticket().ticketId().equals(ticket.ticketId())) {
            return new Answer(false, false, "No such ticket is loaded.");
        }
        laid.remove(ticket.position());
        settle();
        return new Answer(true, true, "Position " + ticket.position() + ": ticket withdrawn.");
    }

    /** A cycle began: its tickets leave the desk. */
    synchronized void started(UUID cycleId, List<Position> positions) {
        boolean fromDesk =
                positions.stream()
                        .anyMatch(
                                p ->
                                        tickets.stream()
                                                .anyMatch(t -> t.ticketId().equals(p.ticketId())));
        underWay = fromDesk ? tickets : List.of();
        for (Position position : positions) {
            if (position.ticketId() != null) {
                usedInCycle.put(position.ticketId(), cycleId);
                laid.values().removeIf(l -> l.ticket().ticketId().equals(position.ticketId()));
            }
        }
        while (usedInCycle.size() > MOST_USED) {
            usedInCycle.remove(usedInCycle.keySet().iterator().next());
        }
        settle();
    }

    /** The used tickets, oldest first, to be remembered. */
    synchronized Map<UUID, UUID> used() {
        return new LinkedHashMap<>(usedInCycle);
    }

    synchronized void remember(Map<UUID, UUID> used) {
        usedInCycle.putAll(used);
    }

    private void settle() {
        if (laid.isEmpty()) {
            job = Job.of(chosen);
            tickets = List.of();
            sheet = RecipeSheets.sheet(chosen);
            return;
        }
        List<Position> positions = new ArrayList<>();
        List<LoadedTicket> loaded = new ArrayList<>();
        double flashPoint_C = Double.POSITIVE_INFINITY;
        for (Laid one : laid.values()) {
            Ticket t = one.ticket();
            positions.add(
                    new Position(
                            t.position(), t.ticketId(), t.washId(), Pass.valueOf(t.pass().name())));
            loaded.add(
                    new LoadedTicket(t.position(), t.ticketId(), t.washId(), t.colony(), t.pass()));
            boolean known = t.spirit() != null && t.spirit().flashPoint_C() != null;
            // The least of all jars; one that is not known makes the whole not known (NaN).
            flashPoint_C = Math.min(flashPoint_C, known ? t.spirit().flashPoint_C() : Double.NaN);
        }
        Laid first = laid.values().iterator().next();
        job = new Job(first.recipe(), positions, flashPoint_C);
        tickets = List.copyOf(loaded);
        sheet = first.ticket().recipe();
    }
}
