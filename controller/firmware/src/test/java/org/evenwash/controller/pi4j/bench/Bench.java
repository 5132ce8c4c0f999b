package org.evenwash.controller.pi4j.bench;

import java.io.IOException;
import java.nio.file.Path;
import org.evenwash.controller.pi4j.BoardScenarios;

/** The person at the virtual bench: started on the board, plays a part and writes the verdicts to the data disk. */
public final class Bench {
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
                    case "cut" -> cut();
                    case "whole" -> whole(lines, data);
                    default -> throw new IllegalArgumentException("no part is called " + part);
                };
        System.exit(passed ? 0 : 1);
    }

    private static boolean cut() {
        System.out.println("BENCH: cut the power now");
        return true;
    }

    private static boolean whole(Path lines, Path data) throws IOException {
        Scenarios board = new Scenarios("board");
        BoardScenarios.run(board, lines);
        return board.write(data.resolve("results"));
    }
}
