package org.evenwash.logger.broker;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.Principal;
import java.util.Set;
import javax.security.auth.Subject;
import org.apache.activemq.artemis.core.security.CheckType;
import org.apache.activemq.artemis.core.security.Role;
import org.apache.activemq.artemis.spi.core.protocol.RemotingConnection;
import org.apache.activemq.artemis.spi.core.security.ActiveMQSecurityManager5;
import org.apache.activemq.artemis.spi.core.security.jaas.UserPrincipal;

/** Lets the station and admitted benches in, and holds each to its topics. */
final class DoorKeeper implements ActiveMQSecurityManager5 {
    /** Between the parts of an address that picks a queue by name. */
    static final String QUEUE_MARK = "::";

    private final String stationPassword;
    private final BenchPasswords benches;

    DoorKeeper(String stationPassword, BenchPasswords benches) {
        this.stationPassword = stationPassword;
        this.benches = benches;
    }

    @Override
    public Subject authenticate(
            String user, String password, RemotingConnection connection, String domain) {
        if (user == null || password == null || !ownClientId(user, connection)) {
            return null;
        }
        // Artemis asks again before each new kind of thing that a connection does.
        Subject before = connection.getSubject();
        if (before != null && user.equals(userOf(before))) {
            return before;
        }
        if (!known(user, password)) {
            return null;
        }
        return new Subject(true, Set.of(new UserPrincipal(user)), Set.of(), Set.of());
    }

    /** Who has signed in on a connection; empty if nobody has. */
    static String userOf(Subject subject) {
        return subject == null
                ? ""
                : subject.getPrincipals().stream().map(Principal::getName).findFirst().orElse("");
    }

    private static boolean ownClientId(String user, RemotingConnection connection) {
        return connection != null
                && (user.equals(Broker.STATION)
                        || TopicRules.clientId(user).equals(connection.getClientID()));
    }

    private boolean known(String user, String password) {
        if (user.equals(Broker.STATION)) {
            return MessageDigest.isEqual(
                    password.getBytes(StandardCharsets.UTF_8),
                    stationPassword.getBytes(StandardCharsets.UTF_8));
        }
        return benches.matches(user, password);
    }

    @Override
    public boolean authorize(
            Subject subject, Set<Role> roles, CheckType check, String addressAndQueue) {
        if (subject == null) {
            return false;
        }
        String user = userOf(subject);
        int mark = addressAndQueue.indexOf(QUEUE_MARK);
        String topic = mark < 0 ? addressAndQueue : addressAndQueue.substring(0, mark);
        boolean station = user.equals(Broker.STATION);
        boolean mayWrite =
                station ? TopicRules.stationMayWrite(topic) : TopicRules.benchMayWrite(user, topic);
        boolean mayRead =
                station ? TopicRules.stationMayRead(topic) : TopicRules.benchMayRead(user, topic);
        return switch (check) {
            case SEND -> mayWrite;
            case CONSUME,
                    CREATE_DURABLE_QUEUE,
                    CREATE_NON_DURABLE_QUEUE,
                    DELETE_DURABLE_QUEUE,
                    DELETE_NON_DURABLE_QUEUE ->
                    mayRead;
            case CREATE_ADDRESS, DELETE_ADDRESS -> mayRead || mayWrite;
            case MANAGE, BROWSE, VIEW, EDIT -> false;
        };
    }

    @Override
    public boolean validateUser(String user, String password) {
        throw new UnsupportedOperationException("the broker asks authenticate()");
    }

    @Override
    public boolean validateUserAndRole(
            String user, String password, Set<Role> roles, CheckType checkType) {
        throw new UnsupportedOperationException("the broker asks authorize()");
    }
}
