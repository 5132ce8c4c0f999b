package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.MINUTES;
import static java.util.concurrent.TimeUnit.SECONDS;
import static org.awaitility.Awaitility.await;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.UUID;
import java.util.concurrent.Semaphore;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.wash.By;
import org.evenwash.record.Messages;
import org.evenwash.record.Topics;

/**
 * Records per second from the broker into the database: embedded broker, SQLite with WAL and synchronous
 * FULL, one bench that sends as fast as it may. Run by hand: {@code java … ThroughputMeasurement 20000}.
 */
final class ThroughputMeasurement {
    private ThroughputMeasurement() {}

    public static void main(String[] args) throws Exception {
        int records = args.length == 0 ? 20_000 : Integer.parseInt(args[0]);
        Path folder = Files.createTempDirectory("throughput");
        try (Station station = Station.start(StationConfig.inFolder(folder))) {
            await().atMost(20, SECONDS).until(station::isConnected);
            String password =
                    station.workplace().benches().admit("bench-1", "Bench", true, By.nobody());
            MqttAsyncClient client =
                    new MqttAsyncClient(
                            "tcp://127.0.0.1:" + station.brokerPort(),
                            "load",
                            new MemoryPersistence());
            MqttConnectionOptions options = new MqttConnectionOptions();
            options.setUserName("bench-1");
            options.setPassword(password.getBytes(java.nio.charset.StandardCharsets.UTF_8));
            client.connect(options).waitForCompletion();
            Semaphore underWay = new Semaphore(200);
            UUID outbox = UUID.randomUUID();
            int size_bytes = 0;
            long start = System.nanoTime();
            for (int sequence = 1; sequence <= records; sequence++) {
                byte[] payload =
                        Messages.write(
                                Samples.cycle("bench-1", UUID.randomUUID(), outbox, sequence));
                size_bytes = payload.length;
                underWay.acquire();
                client.publish(
                        Topics.of("bench-1", Topics.Kind.CYCLE),
                        payload,
                        1,
                        false,
                        null,
                        new Release(underWay));
            }
            double sent_s = (System.nanoTime() - start) / 1e9;
            await().atMost(10, MINUTES).until(() -> station.committed() >= records);
            double stored_s = (System.nanoTime() - start) / 1e9;
            System.out.printf(
                    "%d records of %d bytes: sent in %.1f s, committed in %.1f s, %.0f records/s%n",
                    records, size_bytes, sent_s, stored_s, records / stored_s);
            System.out.println("missing: " + station.workplace().benches().missing("bench-1"));
            client.disconnect().waitForCompletion();
            client.close();
        }
    }

    private record Release(Semaphore underWay) implements MqttActionListener {
        @Override
        public void onSuccess(IMqttToken token) {
            underWay.release();
        }

        @Override
        public void onFailure(IMqttToken token, Throwable cause) {
            throw new IllegalStateException("not published", cause);
        }
    }
}
