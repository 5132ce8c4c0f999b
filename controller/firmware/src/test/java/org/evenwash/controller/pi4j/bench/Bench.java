package org.evenwash.controller.pi4j.bench;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.pi4j.BoardScenarios;

/** The person at the virtual bench: started on the board, plays a part and writes the verdicts to the data disk. */
public final class Bench {
    private static final Duration UNTIL_THE_PLUG_IS_PULLED = Duration.ofMinutes(1);

    private Bench() {}

    /**
     * @param args part ({@code cut} or {@code whole}), folder of the simulated lines, data disk
     */
    public static void main(String[] args) throws IOException {
        String part = args[0];
        Path lines = Path.of(args[1]);
        Path data = Path.of(args[2]);
        boolean passed =
                switch (part) {
                    case "cut" -> cut(lines, data);
                    case "whole" -> whole(lines, data);
                    default -> throw new IllegalArgumentException("no part is called " + part);
                };
        System.exit(passed ? 0 : 1);
    }

    /** Agitates until the host pulls the plug. */
    private static boolean cut(Path lines, Path data) throws IOException {
        BenchAndHand bench = CycleScenarios.untilAgitating(lines, data);
        System.out.println("BENCH: cut the power now");
        LockSupport.parkNanos(UNTIL_THE_PLUG_IS_PULLED.toNanos());
        bench.close();
        return false;
    }

    private static boolean whole(Path lines, Path data) throws IOException {
        Scenarios board = new Scenarios("board");
        BoardScenarios.run(board, lines);
        boolean boardPassed = board.write(data.resolve("results"));
        Scenarios cycle = new Scenarios("cycle");
        CycleScenarios.run(cycle, lines, data);
        boolean cyclePassed = cycle.write(data.resolve("results"));
        return boardPassed && cyclePassed;
    }
}
