package org.evenwash.controller.pi4j.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.evenwash.controller.pi4j.BoardScenarios;

/** The person at the virtual bench: started on the board, plays a part and writes the verdicts to the data disk. */
public final class Bench {
    /** The kernel's emergency keys: it stops dead, nothing that waits in memory reaches a disk. */
    private static final Path KERNEL_KEYS = Path.of("/proc/sysrq-trigger");

    private static final String AT_ONCE_WITHOUT_SYNC = "b";

    private Bench() {}

    /**
     * @param args part ({@code whole} or {@code after}), folder of the simulated lines, data disk, disk of the verdicts
     */
    public static void main(String[] args) throws IOException {
        String part = args[0];
        Path lines = Path.of(args[1]);
        Path data = Path.of(args[2]);
        Path results = Path.of(args[3]);
        switch (part) {
            case "whole" -> whole(results, lines, data);
            case "after" -> after(results, lines, data);
            default -> throw new IllegalArgumentException("no part is called " + part);
        }
        System.out.println("BENCH: the end of part " + part);
        Files.writeString(KERNEL_KEYS, AT_ONCE_WITHOUT_SYNC);
    }

    /** Everything that needs no second start of the board; a cycle is under way at its end. */
    private static void whole(Path results, Path lines, Path data) throws IOException {
        BoardScenarios.run(new Scenarios("board", results), lines);
        CycleScenarios.run(new Scenarios("cycle", results), lines, data);
    }

    /** The same data disk, on a board that lost its power in the middle of that cycle. */
    private static void after(Path results, Path lines, Path data) throws IOException {
        CycleScenarios.afterThePowerCut(new Scenarios("power", results), lines, data);
    }
}
