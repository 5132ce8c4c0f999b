package org.evenwash.controller.pi4j;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Queue;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.locks.LockSupport;

/** A chip that is a table of levels: contacts hold them, unconnected lines follow the pull. */
final class FakeLines implements Lines {
    private final Map<Integer, Level> held = new ConcurrentHashMap<>();
    private final Map<Integer, String> holders = new HashMap<>();
    private final Map<Integer, Level> driven = new HashMap<>();
    private final Map<Integer, Queue<Long>> edges = new ConcurrentHashMap<>();
    private final Set<Integer> broken = new HashSet<>();
    private final int size;

    FakeLines(int size) {
        this.size = size;
    }

    /** Every input of the map wired and at rest. */
    static FakeLines atRest(PinMap map) {
        FakeLines lines = new FakeLines(28);
        for (PinMap.Pin pin : map.pins()) {
            if (pin.signal().kind().isInput()) {
                lines.hold(pin.gpio(), pin.level(pin.signal().activeAtRest()));
            }
        }
        return lines;
    }

    /** The level of an unconnected line; without a pull it is anybody's guess, and LOW here. */
    static Level settled(Pull pull) {
        return pull == Pull.UP ? Level.HIGH : Level.LOW;
    }

    /** A contact and its resistor hold the line at a level. */
    void hold(int gpio, Level level) {
        held.put(gpio, level);
    }

    /** Nothing is connected any more. */
    void cut(int gpio) {
        held.remove(gpio);
    }

    /** Somebody else has the line. */
    void occupy(int gpio, String holder) {
        holders.put(gpio, holder);
    }

    /** Reading the line fails from now on. */
    void fail(int gpio) {
        broken.add(gpio);
    }

    /** An edge happened, seen once by whoever asks. */
    void edge(int gpio, long at_ns) {
        edges.computeIfAbsent(gpio, line -> new ConcurrentLinkedQueue<>()).add(at_ns);
    }

    /** What an output drives; null when it is not held. */
    Level driven(int gpio) {
        return driven.get(gpio);
    }

    Level held(int gpio) {
        return held.get(gpio);
    }

    private void claim(int gpio, String consumer) {
        if (gpio >= size) {
            throw new WiringException(BoardCheck.noSuchLine(gpio, consumer));
        }
        String holder = holders.get(gpio);
        if (holder != null) {
            throw new WiringException(BoardCheck.busy(gpio, consumer, holder));
        }
    }

    @Override
    public Level glance(int gpio, Pull pull) {
        claim(gpio, "wiring check");
        return held.getOrDefault(gpio, settled(pull));
    }

    @Override
    public InputLine input(int gpio, Pull pull, String consumer) {
        claim(gpio, consumer);
        holders.put(gpio, consumer);
        return new InputLine() {
            @Override
            public Level level() {
                if (broken.contains(gpio)) {
                    throw new IllegalStateException("line " + gpio + " cannot be read");
                }
                return held.getOrDefault(gpio, settled(pull));
            }

            @Override
            public long awaitEdge(long limit_ns) {
                Long edge_ns = edges.getOrDefault(gpio, new ConcurrentLinkedQueue<>()).poll();
                if (edge_ns == null) {
                    LockSupport.parkNanos(Math.min(limit_ns, 1_000_000));
                    return NO_EDGE;
                }
                return edge_ns;
            }
        };
    }

    @Override
    public InputLine pulses(int gpio, Pull pull, Level towards, String consumer) {
        return input(gpio, pull, consumer);
    }

    @Override
    public OutputLine output(int gpio, Level initial, String consumer) {
        claim(gpio, consumer);
        holders.put(gpio, consumer);
        driven.put(gpio, initial);
        return new OutputLine() {
            @Override
            public void drive(Level level) {
                driven.put(gpio, level);
            }

            @Override
            public Level level() {
                return driven.get(gpio);
            }
        };
    }

    @Override
    public void close() {
        holders.clear();
    }
}
