package org.evenwash.demo;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/** The process of {@link SoakYard}, so that what its benches take can be measured beside nothing else. */
final class SoakBenches implements AutoCloseable {
    private final Path folder;
    private final int benches;
    private final Program program;

    /** Lets the benches in, so the logger must not run yet. */
    SoakBenches(Path folder, Path data, int benches, int brokerPort, double speed) {
        this.folder = folder;
        this.benches = benches;
        List<String> command = new ArrayList<>(Program.java());
        command.addAll(List.of("-cp", System.getProperty("java.class.path")));
        command.add(SoakYard.class.getName());
        command.addAll(List.of(folder.toString(), data.toString()));
        command.addAll(List.of("" + benches, "" + brokerPort, "" + speed));
        this.program = Program.start("benches", command);
        program.await(SoakYard.READY);
    }

    long pid() {
        return program.pid();
    }

    void work() {
        program.say(SoakYard.WORK);
    }

    /** No new washes; what is under way comes to its end. */
    void rest() {
        program.say(SoakYard.REST).await(SoakYard.RESTING);
    }

    /** Messages without a receipt, of all benches. */
    long unsent() {
        String line = program.say(SoakYard.UNSENT).await(SoakYard.LEFT);
        return Long.parseLong(line.substring(SoakYard.LEFT.length()));
    }

    List<Path> outboxes() {
        return IntStream.rangeClosed(1, benches)
                .mapToObj(i -> folder.resolve("bench-" + i).resolve("outbox.db"))
                .toList();
    }

    @Override
    public void close() {
        program.close();
    }
}
