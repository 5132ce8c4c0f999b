package org.evenwash.logger.wash;

import java.util.Collections;
import java.util.Map;
import java.util.function.Function;

/**
 * The latest answers to questions that take a while and are asked again and again: a fit, ten thousand
 * deals, a picture. Equal questions have equal answers; whatever changes belongs into the question.
 */
public final class Remembered<Q, A> {
    private static final int MOST = 16;

    private final Map<Q, A> answers = Collections.synchronizedMap(new Latest<>(MOST));

    /** Works the answer out unless it is remembered; two who ask at once may both work. */
    public A answer(Q question, Function<Q, A> work) {
        A known = answers.get(question);
        if (known == null) {
            known = work.apply(question);
            answers.put(question, known);
        }
        return known;
    }
}
