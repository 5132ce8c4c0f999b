package org.evenwash.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/** What one Java process takes of its machine over time. */
final class Footprint {
    private static final Pattern LIVE = Pattern.compile("Total\\s+\\d+\\s+(\\d+)");
    private static final Pattern RESIDENT = Pattern.compile("VmRSS:\\s+(\\d+) kB");

    private final long pid;
    private final List<Look> looks = new ArrayList<>();

    /**
     * @param at_s of the machine's uptime
     * @param heap_MB what is reachable, without garbage
     */
    record Look(double at_s, double heap_MB, double resident_MB, double handles) {}

    Footprint(long pid) {
        this.pid = pid;
    }

    /** What a process has in memory now. */
    static double resident_MB(long pid) {
        return number(RESIDENT, read(Path.of("/proc/" + pid + "/status"))) / 1024;
    }

    Look look() {
        Path process = Path.of("/proc/" + pid);
        Look look =
                new Look(
                        System.nanoTime() * 1e-9,
                        number(LIVE, jcmd("GC.class_histogram")) / (1 << 20),
                        resident_MB(pid),
                        handles(process.resolve("fd")));
        looks.add(look);
        return look;
    }

    /**
     * Growth over the whole time by the median of the slopes between all pairs of looks (Theil 1950,
     * Sen 1968, J. Am. Stat. Assoc. 63:1379): a single high look does not count as growth.
     */
    double growth(ToDoubleFunction<Look> figure) {
        List<Double> slopes = new ArrayList<>();
        for (int i = 0; i < looks.size(); i++) {
            for (int j = i + 1; j < looks.size(); j++) {
                double apart_s = looks.get(j).at_s() - looks.get(i).at_s();
                double more =
                        figure.applyAsDouble(looks.get(j)) - figure.applyAsDouble(looks.get(i));
                slopes.add(more / apart_s);
            }
        }
        double[] sorted = slopes.stream().mapToDouble(Double::doubleValue).sorted().toArray();
        double length_s = looks.get(looks.size() - 1).at_s() - looks.get(0).at_s();
        return sorted[sorted.length / 2] * length_s;
    }

    /**
     * The same by the lowest look of each half, which are half the time apart: work under way comes on top of what is
     * kept, and never takes from it.
     */
    double growthOfFloor(ToDoubleFunction<Look> figure) {
        int half = looks.size() / 2;
        return 2
                * (lowest(looks.subList(half, looks.size()), figure)
                        - lowest(looks.subList(0, half), figure));
    }

    private static double lowest(List<Look> some, ToDoubleFunction<Look> figure) {
        return some.stream().mapToDouble(figure).min().orElseThrow();
    }

    private String jcmd(String question) {
        Path tool = Path.of(System.getProperty("java.home"), "bin", "jcmd");
        Program program =
                Program.start("jcmd", List.of(tool.toString(), String.valueOf(pid), question));
        if (program.awaitExit() != 0) {
            throw new AssertionError("jcmd " + question + " failed:\n" + program.tail());
        }
        program.awaitOrEnd("(never said)");
        return program.all();
    }

    private static double number(Pattern pattern, String text) {
        Matcher matcher = pattern.matcher(text);
        if (!matcher.find()) {
            throw new AssertionError("no " + pattern + " in: " + text);
        }
        return Double.parseDouble(matcher.group(1));
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read " + file, e);
        }
    }

    private static long handles(Path folder) {
        try (Stream<Path> handles = Files.list(folder)) {
            return handles.count();
        } catch (IOException e) {
            throw new UncheckedIOException("cannot list " + folder, e);
        }
    }
}
