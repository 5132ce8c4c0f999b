package org.evenwash.controller.config;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Collects what is wrong with one file. */
final class Mistakes {
    private final String file;
    private final List<Mistake> found = new ArrayList<>();

    Mistakes(String file) {
        this.file = file;
    }

    void add(int line, String what, String remedy) {
        found.add(new Mistake(file, line, what, remedy));
    }

    void addAll(List<Mistake> mistakes) {
        found.addAll(mistakes);
    }

    boolean none() {
        return found.isEmpty();
    }

    /**
     * @throws MistakenFile if anything was found
     */
    void throwIfAny() throws MistakenFile {
        if (!found.isEmpty()) {
            found.sort(Comparator.comparingInt(Mistake::line));
            throw new MistakenFile(found);
        }
    }
}
