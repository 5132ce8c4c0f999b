package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenwash.logger.intake.BenchBoard;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.wash.SpeedChecks;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.BenchState;
import org.evenwash.record.ClockState;
import org.evenwash.record.LiveReading;
import org.evenwash.record.RecipeSheet;

/** {@code /}: every bench as it stands now, and the latest washes. Nothing here starts motion. */
public final class BenchPage {
    private static final int ROWS = 5;
    private static final int CYCLES = 3;
    private static final int RUNS = 10;

    private final FrontDesk desk;
    private final Workplace place;
    private final BenchBoard board;

    BenchPage(FrontDesk desk, Workplace place, BenchBoard board) {
        this.desk = desk;
        this.place = place;
        this.board = board;
    }

    public record View(List<Bench> benches, List<WashRow> recent) {}

    /**
     * Numbers that came with two messages.
     *
     * @param numbers such as {@code 4, 7–9}
     * @param otherBench that claimed some of them, null where it is one bench alone
     * @param lastAt when the latest of the messages came: after the cause is gone, no later one does
     */
    public record UsedTwice(String numbers, String otherBench, Instant lastAt) {}

    /**
     * One bench.
     *
     * @param said the latest state message; that of a bench not connected if there is none
     * @param live null without a cycle
     * @param missing sequence numbers that never came, such as {@code 4, 7–9}; empty for none
     * @param usedTwice null while each number came with one message
     * @param strip SVG text of the running cycle, null where there is nothing to draw
     * @param cycles the latest, newest first
     * @param next of today's work, null where no wash waits
     * @param speed its last check against a tachometer, null unless that asks for something
     */
    public record Bench(
            String id,
            String name,
            boolean simulated,
            Instant lastSeenAt,
            BenchState said,
            LiveReading live,
            String missing,
            UsedTwice usedTwice,
            String strip,
            List<CycleLine> cycles,
            NextTicket next,
            SpeedChecks.Check speed) {

        public BenchState.State state() {
            return said.state();
        }

        /** What goes on within RUNNING; null in any other state. */
        public String phase() {
            return live == null || state() != BenchState.State.RUNNING ? null : live.phase();
        }

        public boolean connected() {
            return said.state() != BenchState.State.OFFLINE;
        }

        public boolean canBeHalted() {
            return cycleId() != null
                    && switch (state()) {
                        case RUNNING, HOLDING, HELD, RESTARTING -> true;
                        case IDLE, STOPPING, STOPPED, ABORTING, ABORTED, COMPLETE, OFFLINE -> false;
                    };
        }

        public String cycleId() {
            if (live != null) {
                return live.cycleId().toString();
            }
            return said.cycleId() == null ? null : said.cycleId().toString();
        }

        /** State colour by IEC 60073: green normal, yellow abnormal, red danger, blue to act. */
        public String tone() {
            return switch (state()) {
                case RUNNING, RESTARTING, COMPLETE -> "normal";
                case HOLDING, HELD, STOPPING, STOPPED -> "abnormal";
                case ABORTING, ABORTED -> "danger";
                case IDLE, OFFLINE -> "neutral";
            };
        }

        public String shape() {
            return switch (state()) {
                case RUNNING, RESTARTING -> "▶";
                case COMPLETE -> "●";
                case HOLDING, HELD -> "‖";
                case STOPPING, STOPPED -> "■";
                case ABORTING, ABORTED -> "▲";
                case IDLE -> "○";
                case OFFLINE -> "◌";
            };
        }

        public List<BenchState.TrippedInterlock> interlocks() {
            return said.interlocks();
        }

        public List<BenchState.LoadedTicket> tickets() {
            return said.tickets();
        }

        public List<String> startRefused() {
            return said.startRefused();
        }

        public RecipeSheet recipe() {
            return said.recipe();
        }

        public boolean cautionsAcknowledged() {
            return said.cautionsAcknowledged();
        }

        public BenchState.ProofTest proofTest() {
            return said.proofTest();
        }

        public long outboxDepth() {
            return said.outbox() == null ? 0 : said.outbox().depth();
        }

        public boolean clockUnsure() {
            return said.clock() != null && said.clock() != ClockState.SYNCHRONISED;
        }
    }

    void show(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("bench.title"), "bench");
        List<Bench> benches = place.benches().benches().stream().map(this::bench).toList();
        List<WashRow> recent =
                WashRows.of(
                        place.washes().list(WashFilter.ALL, Page.first(ROWS)).rows(), place, page);
        desk.show(ctx, "bench", page, new View(benches, recent));
    }

    Bench bench(org.evenwash.logger.store.Bench known) {
        String id = known.id();
        Optional<BenchBoard.Standing> standing = board.of(id);
        BenchState said =
                standing.map(BenchBoard.Standing::state)
                        .orElseGet(() -> BenchState.offline(id, known.simulated()));
        String missing =
                place.benches().missing(id).stream()
                        .map(gap -> words(gap.from(), gap.to()))
                        .collect(Collectors.joining(", "));
        return new Bench(
                id,
                known.name(),
                known.simulated(),
                standing.map(BenchBoard.Standing::heardAt).orElse(known.lastSeenAt()),
                said,
                standing.map(BenchBoard.Standing::live).orElse(null),
                missing,
                usedTwice(id),
                strip(id, said, standing.map(BenchBoard.Standing::live).orElse(null)),
                place.cycles().list(id, Page.first(CYCLES)).rows(),
                NextTicket.of(place).orElse(null),
                place.calibrating()
                        .speeds()
                        .of(id)
                        .filter(SpeedChecks.Check::asksForSomething)
                        .orElse(null));
    }

    private UsedTwice usedTwice(String benchId) {
        List<OutboxNumbers.Clash> clashes = place.benches().usedTwice(benchId);
        if (clashes.isEmpty()) {
            return null;
        }
        String other =
                clashes.stream()
                        .flatMap(clash -> Stream.of(clash.benchId(), clash.otherBenchId()))
                        .filter(id -> !id.equals(benchId))
                        .findFirst()
                        .map(id -> place.benches().bench(id).name())
                        .orElse(null);
        return new UsedTwice(
                runs(clashes),
                other,
                clashes.stream()
                        .map(OutboxNumbers.Clash::lastAt)
                        .max(Comparator.naturalOrder())
                        .orElseThrow());
    }

    private String strip(String benchId, BenchState said, LiveReading live) {
        return said.recipe() == null || live == null
                ? null
                : board.traceOf(benchId)
                        .map(trace -> LiveStrip.draw(said.recipe(), live, trace))
                        .orElse(null);
    }

    /** The warmest spirit that a bench reads in a running cycle. */
    Optional<Double> spiritTemperature_C() {
        return board.all().values().stream()
                .map(BenchBoard.Standing::live)
                .filter(live -> live != null && live.spiritTemperature_C() != null)
                .map(LiveReading::spiritTemperature_C)
                .max(Double::compare);
    }

    /** Two cards that both went on count in long runs; only the first few are told. */
    private static String runs(List<OutboxNumbers.Clash> clashes) {
        List<String> runs = new ArrayList<>();
        OutboxNumbers.Clash from = clashes.get(0);
        OutboxNumbers.Clash to = from;
        for (OutboxNumbers.Clash clash : clashes.subList(1, clashes.size())) {
            if (!clash.outboxId().equals(to.outboxId()) || clash.sequence() != to.sequence() + 1) {
                runs.add(words(from.sequence(), to.sequence()));
                from = clash;
            }
            to = clash;
        }
        runs.add(words(from.sequence(), to.sequence()));
        return runs.size() <= RUNS
                ? String.join(", ", runs)
                : String.join(", ", runs.subList(0, RUNS)) + " …";
    }

    private static String words(long from, long to) {
        return from == to ? "" + from : from + "–" + to;
    }
}
