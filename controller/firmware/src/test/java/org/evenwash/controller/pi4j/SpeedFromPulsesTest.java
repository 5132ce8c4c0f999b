package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import org.junit.jupiter.api.Test;

class SpeedFromPulsesTest {
    private static final long STANDSTILL_ns = Duration.ofMillis(500).toNanos();
    private static final long SECOND_ns = 1_000_000_000L;

    private final SpeedFromPulses speed = new SpeedFromPulses(4, STANDSTILL_ns, 400);

    /** Evenly spaced pulses; returns the time of the last. */
    private long turn(long from_ns, double rpm, int pulses) {
        long interval_ns = (long) (60e9 / (rpm * 4));
        for (int i = 0; i < pulses; i++) {
            speed.pulse(from_ns + i * interval_ns);
        }
        return from_ns + (pulses - 1) * interval_ns;
    }

    @Test
    void noPulseYet_isStandingStill() {
        assertThat(speed.speed_rpm(5 * SECOND_ns)).isZero();
        assertThat(speed.revolutions()).isZero();
    }

    @Test
    void onePulse_isNotASpeed() {
        speed.pulse(SECOND_ns);
        assertThat(speed.speed_rpm(SECOND_ns + 1)).isZero();
    }

    @Test
    void fourPulsesPerTurn_atTwoTurnsPerSecond_is120rpm() {
        long last_ns = turn(0, 120, 9);
        assertThat(speed.speed_rpm(last_ns)).isCloseTo(120, within(0.001));
        assertThat(speed.revolutions()).isEqualTo(9 / 4.0);
    }

    @Test
    void unevenMagnets_cancelOverAWholeTurn() {
        long[] gaps_ms = {100, 150, 110, 140}; // one turn in 500 ms: 120 rpm
        long at_ns = 0;
        for (int i = 0; i < 12; i++) {
            speed.pulse(at_ns);
            at_ns += gaps_ms[i % 4] * 1_000_000;
            if (i >= 4) {
                assertThat(speed.speed_rpm(at_ns - gaps_ms[i % 4] * 1_000_000))
                        .isCloseTo(120, within(0.001));
            }
        }
    }

    @Test
    void pulsesStop_speedFallsAtOnceAndReachesZero() {
        long last_ns = turn(0, 120, 9); // an interval is 125 ms
        assertThat(speed.speed_rpm(last_ns + 125_000_000L)).isCloseTo(120, within(0.001));
        assertThat(speed.speed_rpm(last_ns + 250_000_000L)).isCloseTo(60, within(0.001));
        assertThat(speed.speed_rpm(last_ns + STANDSTILL_ns)).isCloseTo(30, within(0.001));
        assertThat(speed.speed_rpm(last_ns + STANDSTILL_ns + 1)).isZero();
    }

    @Test
    void startAfterAPause_doesNotCountThePauseAsATurn() {
        long last_ns = turn(0, 120, 9);
        long again_ns = last_ns + 10 * SECOND_ns;
        turn(again_ns, 240, 2);
        assertThat(speed.speed_rpm(again_ns + 62_500_000L)).isCloseTo(240, within(0.001));
    }

    @Test
    void edgesTooSoonForTheShaft_areNoiseAndCountNothing() {
        long last_ns = turn(0, 120, 9);
        speed.pulse(last_ns + 1_000_000); // 1 ms: 15,000 rpm
        assertThat(speed.noise()).isEqualTo(1);
        assertThat(speed.revolutions()).isEqualTo(9 / 4.0);
        assertThat(speed.speed_rpm(last_ns)).isCloseTo(120, within(0.001));
    }
}
