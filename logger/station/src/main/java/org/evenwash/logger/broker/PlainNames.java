package org.evenwash.logger.broker;

import io.netty.handler.codec.mqtt.MqttConnectMessage;
import io.netty.handler.codec.mqtt.MqttMessage;
import io.netty.handler.codec.mqtt.MqttPublishMessage;
import io.netty.handler.codec.mqtt.MqttSubscribeMessage;
import io.netty.handler.codec.mqtt.MqttTopicSubscription;
import io.netty.handler.codec.mqtt.MqttUnsubscribeMessage;
import io.netty.util.ReferenceCountUtil;
import java.util.stream.Stream;
import org.apache.activemq.artemis.core.protocol.mqtt.MQTTInterceptor;
import org.apache.activemq.artemis.spi.core.protocol.RemotingConnection;

/**
 * Hangs up on whoever uses a name that may reach a queue instead of a topic. Artemis calls the queue of
 * {@code $share/NAME/topic} as it calls the private queue of a client NAME, and deletes it when it turns
 * out that the subscriber may not read it; {@code $sys} is where it keeps sessions; and {@code ::} picks
 * a queue by name.
 */
final class PlainNames implements MQTTInterceptor {
    @Override
    public boolean intercept(MqttMessage packet, RemotingConnection connection) {
        boolean plain = names(packet).allMatch(PlainNames::isPlain);
        if (!plain) {
            // Nobody else does: Artemis drops what is refused here as it is.
            ReferenceCountUtil.release(packet);
        }
        return plain;
    }

    private static boolean isPlain(String name) {
        return !name.startsWith("$") && !name.contains(DoorKeeper.QUEUE_MARK);
    }

    private static Stream<String> names(MqttMessage packet) {
        if (packet instanceof MqttSubscribeMessage subscribe) {
            return subscribe.payload().topicSubscriptions().stream()
                    .map(MqttTopicSubscription::topicFilter);
        }
        if (packet instanceof MqttUnsubscribeMessage unsubscribe) {
            return unsubscribe.payload().topics().stream();
        }
        if (packet instanceof MqttPublishMessage publish) {
            return Stream.of(publish.variableHeader().topicName());
        }
        if (packet instanceof MqttConnectMessage connect) {
            return Stream.ofNullable(connect.payload().willTopic());
        }
        return Stream.empty();
    }
}
