package org.evenwash.controller.pi4j;

import com.pi4j.boardinfo.util.BoardInfoHelper;
import com.pi4j.library.gpiod.internal.GpioDContext;
import com.pi4j.library.gpiod.internal.GpioDException;
import com.pi4j.library.gpiod.internal.GpioLine;
import com.pi4j.library.gpiod.internal.GpioLineEvent;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/**
 * Lines of the kernel's GPIO device through Pi4J's own library layer.
 *
 * <p>That layer and not Pi4J's {@code DigitalInput} and {@code DigitalOutput}, for three measured reasons: in 2.8.0 the
 * monitor thread of an input may be dead from birth (a race at creation), the state of an output is remembered instead of
 * read, and every write of an output allocates. Levels read at each scan are the truth here; edges only wake somebody.
 */
public final class GpioLines implements Lines {
    private static final int NO_FLAGS = 0;

    private final GpioDContext chip;
    private final List<GpioLine> taken = new ArrayList<>();
    private final List<GpioLineEvent> events = new ArrayList<>();

    private GpioLines(GpioDContext chip) {
        this.chip = chip;
    }

    /**
     * Opens the header's chip.
     *
     * @throws WiringException saying which part of board, kernel or chip is not as needed
     */
    public static GpioLines open() {
        return open(new LinuxBoard());
    }

    static GpioLines open(Board board) {
        BoardCheck.of(board).stream()
                .findFirst()
                .ifPresent(
                        finding -> {
                            throw new WiringException(finding);
                        });
        GpioDContext context = GpioDContext.getInstance();
        try {
            context.initialize();
        } catch (UnsatisfiedLinkError | IllegalStateException | GpioDException e) {
            throw new WiringException(BoardCheck.notOpened(e.getMessage()), e);
        }
        if (!BoardInfoHelper.runningOnRaspberryPi()) {
            throw new WiringException(BoardCheck.notAPi(board.model()));
        }
        return new GpioLines(context);
    }

    @Override
    public InputLine input(int gpio, Pull pull, String consumer) {
        return request(
                gpio,
                consumer,
                line -> line.requestBothEdgeEventsFlags(consumer, pull.requestFlag()));
    }

    @Override
    public InputLine pulses(int gpio, Pull pull, Level towards, String consumer) {
        return request(
                gpio,
                consumer,
                line -> {
                    if (towards == Level.HIGH) {
                        line.requestRisingEdgeEventsFlags(consumer, pull.requestFlag());
                    } else {
                        line.requestFallingEdgeEventsFlags(consumer, pull.requestFlag());
                    }
                });
    }

    private InputLine request(int gpio, String consumer, Consumer<GpioLine> how) {
        GpioLine line = free(gpio, consumer);
        try {
            how.accept(line);
        } catch (GpioDException e) {
            throw new WiringException(BoardCheck.busy(gpio, consumer, "another program"), e);
        }
        taken.add(line);
        GpioLineEvent event = chip.openLineEvent();
        events.add(event);
        return new Input(line, event);
    }

    @Override
    public OutputLine output(int gpio, Level initial, String consumer) {
        GpioLine line = free(gpio, consumer);
        try {
            line.requestOutputFlags(consumer, NO_FLAGS, initial.value());
        } catch (GpioDException e) {
            throw new WiringException(BoardCheck.busy(gpio, consumer, "another program"), e);
        }
        taken.add(line);
        return new Output(line);
    }

    @Override
    public Level glance(int gpio, Pull pull) {
        String consumer = "wiring check";
        GpioLine line = free(gpio, consumer);
        try {
            line.requestInputFlags(consumer, pull.requestFlag());
            return Level.of(line.getValue());
        } catch (GpioDException e) {
            throw new WiringException(BoardCheck.busy(gpio, consumer, "another program"), e);
        } finally {
            chip.closeLine(line);
        }
    }

    private GpioLine free(int gpio, String consumer) {
        GpioLine line;
        try {
            line = chip.getOrOpenLine(gpio);
        } catch (GpioDException e) {
            throw new WiringException(BoardCheck.noSuchLine(gpio, consumer), e);
        }
        line.update();
        if (line.isUsed()) {
            throw new WiringException(BoardCheck.busy(gpio, consumer, line.getConsumer()));
        }
        return line;
    }

    @Override
    public void close() {
        taken.forEach(chip::closeLine);
        taken.clear();
        events.forEach(chip::closeLineEvent);
        events.clear();
        chip.close();
    }

    private record Input(GpioLine line, GpioLineEvent event) implements InputLine {
        @Override
        public Level level() {
            return Level.of(line.getValue());
        }

        @Override
        public long awaitEdge(long limit_ns) {
            if (!line.eventWait(limit_ns)) {
                return NO_EDGE;
            }
            line.eventRead(event);
            return event.getTimeNs();
        }
    }

    private record Output(GpioLine line) implements OutputLine {
        @Override
        public void drive(Level level) {
            line.setValue(level.value());
        }

        @Override
        public Level level() {
            return Level.of(line.getValue());
        }
    }
}
