package org.evenwash.logger.web;

import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.intake.PlainBench;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.SpiritShelf;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Ticket;
import org.evenwash.record.Topics;

/** A whole station with its broker, a yard, and a bench at the other end of the line. */
final class Workday implements AutoCloseable {
    static final String BENCH = "shed-1";

    final Station station;
    final Workplace place;
    final WebServer server;
    final Apiary apiary;
    private final PlainBench bench;
    private long sequence;

    Workday(Path folder) throws MqttException {
        station = Station.start(StationConfig.inFolder(folder).onBrokerPort(0).asDemonstration());
        place = station.workplace();
        By by = By.nobody();
        place.yard().addOperator("Ada", by);
        place.yard().addOperator("Brook", by);
        apiary = place.yard().addApiary("Hollow Lane", "Etc/UTC", Hemisphere.NORTHERN, by);
        for (String name : List.of("Alder", "Birch", "Cherry", "Dogwood")) {
            place.yard().addColony(apiary.id(), name, by);
        }
        place.spirit()
                .addBatch(
                        new SpiritShelf.NewBatch(
                                "May mix",
                                "methylated spirit",
                                48.5,
                                24.3,
                                2_000.0,
                                null,
                                null,
                                ""),
                        by);
        place.recipes().add(Cycles3.RECIPE, null, by);
        var threshold =
                place.standards().thresholds().values().stream()
                        .filter(one -> one.per100Bees().isPresent())
                        .findFirst()
                        .orElseThrow();
        place.standards().chooseThreshold(threshold.id(), null, by);
        String password = place.benches().admit(BENCH, "The shed", true, by);
        server = WebServer.start(station, WebSettings.loopback(0));
        bench = new PlainBench(station.brokerAddress(), BENCH, password);
    }

    String address(String path) {
        return server.address() + path;
    }

    /** How many tickets the bench has heard of. */
    int tickets() {
        return bench.tickets.size();
    }

    /** Shakes the tickets that came after the first {@code before}, all together, and sends the record. */
    CycleRecord shake(int before) throws MqttException {
        List<Ticket> loaded = List.copyOf(bench.tickets.subList(before, bench.tickets.size()));
        Instant at = Clock.systemUTC().instant().minusSeconds(200);
        CycleRecord cycle = Cycles3.of(loaded, BENCH, ++sequence, at);
        bench.say(Topics.Kind.CYCLE, cycle);
        bench.receiptFor(cycle.cycleId(), 1);
        return cycle;
    }

    @Override
    public void close() throws MqttException {
        bench.close();
        server.close();
        station.close();
    }
}
