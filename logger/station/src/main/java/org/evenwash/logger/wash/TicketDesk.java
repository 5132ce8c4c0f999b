package org.evenwash.logger.wash;

import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Tickets;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashPass;
import org.evenwash.logger.store.Washes;
import org.evenwash.record.Ids;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.Ticket;
import org.jdbi.v3.core.Handle;

/** Tickets: they prepare a bench for a wash and can never start it. */
public final class TicketDesk {
    private final Desk desk;
    private final BenchLink link;

    TicketDesk(Desk desk, BenchLink link) {
        this.desk = desk;
        this.link = link;
    }

    /**
     * Issues a ticket and sends it to its bench; a bench that is away gets it when it comes back.
     *
     * @param position jar position at the bench, 1 to 8
     * @throws Refused if another open ticket has that position
     */
    public StoredTicket issue(
            UUID washId,
            Pass pass,
            String benchId,
            int position,
            String recipeId,
            int recipeVersion,
            By by) {
        if (position < 1 || position > Position.MOST) {
            throw Refused.invalid("jar position", "is " + position, "choose 1 to " + Position.MOST);
        }
        UUID id = Ids.next();
        UUID done =
                desk.onceAt(
                        by,
                        "issue a ticket for wash",
                        washId + " " + pass,
                        id,
                        handle -> {
                            BenchRegister.bench(handle, benchId);
                            RecipeSheet recipe =
                                    RecipeBook.recipe(handle, recipeId, recipeVersion).sheet();
                            positionIsFree(handle, benchId, position);
                            Ticket ticket =
                                    ticket(handle, id, washId, pass, benchId, position, recipe);
                            Tickets.insert(handle, stored(ticket, by));
                        });
        StoredTicket ticket = ticket(done);
        if (ticket.standing().open()) {
            link.send(ticket.message());
        }
        return ticket;
    }

    private static void positionIsFree(Handle handle, String benchId, int position) {
        for (StoredTicket open : Tickets.open(handle, benchId)) {
            if (open.position() == position) {
                throw Refused.conflict(
                        "jar position",
                        position + " of bench " + benchId + " has an open ticket",
                        "run or withdraw that one first, or choose another position");
            }
        }
    }

    private Ticket ticket(
            Handle handle,
            UUID id,
            UUID washId,
            Pass kind,
            String benchId,
            int position,
            RecipeSheet recipe) {
        Wash wash = WashBook.wash(handle, washId);
        Colony colony = Yard.colony(handle, wash.colonyId());
        WashPass pass = Washes.pass(handle, washId, Entry.present("pass", kind));
        Ticket.Spirit spirit = null;
        if (pass.spiritBatchId() != null) {
            SpiritBatch batch = SpiritShelf.batch(handle, pass.spiritBatchId());
            SpiritState now =
                    SpiritLedger.stateAt(batch, SpiritBatches.uses(handle, batch.id()), pass.id());
            // The stronger end: the bench asks for its flash point.
            spirit = new Ticket.Spirit(batch.kind(), now.strongest_pctVol(), now.flashPoint_C());
        }
        String operator =
                wash.operatorId() == null
                        ? null
                        : Operators.find(handle, wash.operatorId()).orElseThrow().name();
        return new Ticket(
                Ticket.SCHEMA,
                id,
                benchId,
                desk.now(),
                Ticket.Action.LOAD,
                position,
                washId,
                kind,
                colony.name(),
                operator,
                recipe,
                spirit);
    }

    private static StoredTicket stored(Ticket ticket, By by) {
        return new StoredTicket(
                ticket.ticketId(),
                ticket.washId(),
                ticket.pass(),
                ticket.benchId(),
                ticket.position(),
                StoredTicket.Standing.ISSUED,
                null,
                Json.write(ticket),
                ticket.issuedAt(),
                by.operatorId(),
                null);
    }

    /** Takes an open ticket back; the bench is told, now or when it comes back. */
    public StoredTicket withdraw(UUID ticketId, By by) {
        desk.onceAt(
                by,
                "withdraw ticket",
                ticketId,
                handle -> {
                    StoredTicket before = ticket(handle, ticketId);
                    if (!Tickets.move(
                            handle, ticketId, StoredTicket.Standing.WITHDRAWN, null, desk.now())) {
                        throw Refused.conflict(
                                "ticket",
                                "is closed already: " + before.standing(),
                                "there is nothing left to withdraw");
                    }
                });
        StoredTicket ticket = ticket(ticketId);
        link.send(withdrawal(ticket));
        return ticket;
    }

    /** The message that takes a ticket off its bench. */
    public static Ticket withdrawal(StoredTicket ticket) {
        Ticket issued = ticket.message();
        return new Ticket(
                Ticket.SCHEMA,
                issued.ticketId(),
                issued.benchId(),
                ticket.closedAt() == null ? issued.issuedAt() : ticket.closedAt(),
                Ticket.Action.WITHDRAW,
                issued.position(),
                issued.washId(),
                issued.pass(),
                null,
                null,
                null,
                null);
    }

    public StoredTicket ticket(UUID id) {
        return desk.read(handle -> ticket(handle, id));
    }

    private static StoredTicket ticket(Handle handle, UUID id) {
        return Tickets.find(handle, Entry.present("ticket", id))
                .orElseThrow(() -> Refused.notFound("ticket", id));
    }

    /** Open tickets of a bench in the order of issue. */
    public List<StoredTicket> open(String benchId) {
        return desk.read(handle -> Tickets.open(handle, benchId));
    }

    public List<StoredTicket> ofWash(UUID washId) {
        return desk.read(handle -> Tickets.ofWash(handle, washId));
    }
}
