package org.evenwash.logger.rules;

import java.util.List;
import java.util.stream.Collectors;

/** A rule file that cannot be used, with everything that is wrong in it. */
public final class RuleFileException extends Exception {
    private final transient List<Mistake> mistakes;

    RuleFileException(List<Mistake> mistakes) {
        super(mistakes.stream().map(Mistake::toString).collect(Collectors.joining("\n")));
        this.mistakes = List.copyOf(mistakes);
    }

    public List<Mistake> mistakes() {
        return mistakes;
    }
}
