package org.evenwash.controller.config;

import java.util.List;
import java.util.stream.Collectors;

/** A file that cannot be used as it stands; carries every mistake that was found in it. */
public final class MistakenFile extends Exception {
    private static final long serialVersionUID = 1L;

    private final transient List<Mistake> mistakes;

    public MistakenFile(List<Mistake> mistakes) {
        super(mistakes.stream().map(Mistake::inWords).collect(Collectors.joining("\n")));
        this.mistakes = List.copyOf(mistakes);
    }

    /** In the order of their lines; at least one. */
    public List<Mistake> mistakes() {
        return mistakes;
    }
}
