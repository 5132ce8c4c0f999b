package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.DayPlan;
import org.evenwash.logger.store.DayPlans;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Washes;
import org.evenwash.record.Ids;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;
import org.evenwash.record.RecipeSheet;
import org.jdbi.v3.core.Handle;

/** A day's work: which colonies of an apiary are washed, in which order, and their tickets. */
public final class DayPlanner {
    private final Desk desk;
    private final WashBook washes;
    private final TicketDesk tickets;

    DayPlanner(Desk desk, WashBook washes, TicketDesk tickets) {
        this.desk = desk;
        this.washes = washes;
        this.tickets = tickets;
    }

    /**
     * A day as it is asked for.
     *
     * @param onDay null for today in the apiary's time zone
     * @param chosen the colonies to wash; empty to draw them
     * @param howMany to draw; not looked at where colonies are chosen
     * @param seed of the draw: the same seed and colonies give the same draw
     * @param operatorId who samples, null if not known yet
     */
    public record NewDay(
            UUID apiaryId,
            LocalDate onDay,
            List<UUID> chosen,
            int howMany,
            long seed,
            UUID operatorId) {
        public NewDay {
            chosen = List.copyOf(chosen);
        }
    }

    /** The bench a ticket goes to, and what runs there. */
    public record Setup(
            String benchId, int jars, String recipeId, int recipeVersion, UUID spiritBatchId) {}

    /** Makes the plan and its washes. */
    public DayPlan plan(NewDay day, By by) {
        UUID id = Ids.next();
        return plan(desk.once(by, "plan a day", id, handle -> insert(handle, id, day, by)));
    }

    private void insert(Handle handle, UUID id, NewDay day, By by) {
        Yard.apiary(handle, day.apiaryId());
        List<Colony> living = Colonies.living(handle, day.apiaryId());
        boolean drawn = day.chosen().isEmpty();
        List<Colony> colonies =
                drawn ? draw(living, day.howMany(), day.seed()) : chosen(living, day);
        // Nothing can be said of the whole from colonies that somebody picked.
        Claim claim = drawn ? Claim.of(colonies.size(), living.size()) : null;
        List<UUID> made = new ArrayList<>();
        LocalDate onDay = day.onDay();
        for (Colony colony : colonies) {
            UUID washId = Ids.next();
            NewWash wash =
                    new NewWash(
                            colony.id(), day.onDay(), day.operatorId(), null, null, null, false);
            var planned = washes.planned(handle, washId, wash);
            onDay = planned.sampledOn();
            Washes.insert(handle, planned);
            made.add(washId);
        }
        DayPlans.insert(
                handle,
                new DayPlan(
                        id,
                        day.apiaryId(),
                        onDay,
                        drawn ? day.seed() : null,
                        claim == null ? null : Json.write(claim),
                        desk.now(),
                        by.operatorId()));
        for (int i = 0; i < made.size(); i++) {
            DayPlans.insertStep(handle, id, i + 1, made.get(i));
        }
    }

    /**
     * Draws without looking: every set of that size is as likely as any other (Fisher and Yates 1938,
     * in Durstenfeld's form). {@link Random} gives the same numbers on every Java for one seed, so that
     * anyone can repeat the draw.
     */
    static List<Colony> draw(List<Colony> living, int howMany, long seed) {
        if (howMany < 1 || howMany > living.size()) {
            throw Refused.invalid(
                    "number of colonies",
                    "is " + howMany + ", and " + living.size() + " stand in this apiary",
                    "choose a number from 1 to " + living.size());
        }
        List<Colony> order = new ArrayList<>(living);
        // Names change; ids do not.
        order.sort(Comparator.comparing(colony -> colony.id().toString()));
        Random random = new Random(seed);
        for (int i = 0; i < howMany; i++) {
            int other = i + random.nextInt(order.size() - i);
            Colony drawn = order.set(other, order.get(i));
            order.set(i, drawn);
        }
        return order.subList(0, howMany).stream()
                .sorted(Comparator.comparing(Colony::name))
                .toList();
    }

    private static List<Colony> chosen(List<Colony> living, NewDay day) {
        Set<UUID> wanted = new HashSet<>(day.chosen());
        List<Colony> colonies =
                living.stream().filter(colony -> wanted.remove(colony.id())).toList();
        if (!wanted.isEmpty()) {
            throw Refused.invalid(
                    "colony",
                    "'" + wanted.iterator().next() + "' does not live in this apiary",
                    "choose among those that stand there now");
        }
        return colonies;
    }

    public DayPlan plan(UUID id) {
        return desk.read(handle -> plan(handle, id));
    }

    private static DayPlan plan(Handle handle, UUID id) {
        return DayPlans.find(handle, Entry.present("day", id))
                .orElseThrow(() -> Refused.notFound("day", id));
    }

    /** Latest day first. */
    public List<DayPlan> latest(int most) {
        return desk.read(handle -> DayPlans.latest(handle, most));
    }

    /** The washes of a day in their order. */
    public List<DayPlans.Step> steps(UUID planId) {
        return desk.read(handle -> DayPlans.steps(handle, planId));
    }

    /** What the plan's number of washes allows to say; empty where the colonies were chosen. */
    public static Optional<Claim> claim(DayPlan plan) {
        return Optional.ofNullable(plan.claimJson()).map(json -> Json.read(json, Claim.class));
    }

    /** The recipe of the latest ticket of this day; empty before the first. */
    public Optional<RecipeSheet> recipe(UUID planId) {
        return desk.read(handle -> DayPlans.latestTicket(handle, planId))
                .map(id -> tickets.ticket(id).message().recipe());
    }

    /**
     * Sends the next washes of a day to a bench, one to each free jar position.
     *
     * @throws Refused if nothing waits, or no position is free
     */
    public List<StoredTicket> next(UUID planId, Setup setup, By by) {
        if (setup.jars() < 1 || setup.jars() > Position.MOST) {
            throw Refused.invalid(
                    "number of jars", "is " + setup.jars(), "choose 1 to " + Position.MOST);
        }
        plan(planId);
        List<DayPlans.Step> waiting = steps(planId).stream().filter(DayPlans.Step::waits).toList();
        if (waiting.isEmpty()) {
            throw Refused.conflict(
                    "day", "has no wash left to send", "count what was shaken, or plan more");
        }
        List<Integer> free = freePositions(setup);
        if (free.isEmpty()) {
            throw Refused.conflict(
                    "bench " + setup.benchId(),
                    "has an open ticket at each jar position",
                    "run those first, or take one back");
        }
        List<StoredTicket> sent = new ArrayList<>();
        for (int i = 0; i < Math.min(free.size(), waiting.size()); i++) {
            sent.add(send(waiting.get(i).washId(), free.get(i), setup, by));
        }
        return sent;
    }

    private List<Integer> freePositions(Setup setup) {
        Set<Integer> taken = new HashSet<>();
        tickets.open(setup.benchId()).forEach(ticket -> taken.add(ticket.position()));
        List<Integer> free = new ArrayList<>();
        for (int position = 1; position <= setup.jars(); position++) {
            if (!taken.contains(position)) {
                free.add(position);
            }
        }
        return free;
    }

    private StoredTicket send(UUID washId, int position, Setup setup, By by) {
        if (setup.spiritBatchId() != null) {
            washes.enterPass(
                    washId, Pass.FIRST, setup.spiritBatchId(), null, part(by, position, "spirit"));
        }
        return tickets.issue(
                washId,
                Pass.FIRST,
                setup.benchId(),
                position,
                setup.recipeId(),
                setup.recipeVersion(),
                part(by, position, "ticket"));
    }

    /** One request of several tickets: each has a key of its own. */
    private static By part(By by, int position, String step) {
        return by.key() == null ? by : by.once(by.key() + "/" + position + "/" + step);
    }
}
