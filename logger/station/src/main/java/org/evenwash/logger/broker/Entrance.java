package org.evenwash.logger.broker;

import io.netty.bootstrap.ServerBootstrap;
import io.netty.channel.Channel;
import io.netty.channel.ChannelFuture;
import io.netty.channel.ChannelInitializer;
import io.netty.channel.ChannelOption;
import io.netty.channel.ChannelPipeline;
import io.netty.channel.EventLoopGroup;
import io.netty.channel.nio.NioEventLoopGroup;
import io.netty.channel.socket.nio.NioServerSocketChannel;
import io.netty.util.concurrent.DefaultThreadFactory;
import java.net.InetSocketAddress;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import org.apache.activemq.artemis.core.remoting.impl.netty.NettyAcceptor;

/**
 * Where the broker listens. Artemis takes over connections that another has accepted, as it would from a
 * web server; so each passes a {@link PacketGate} first.
 */
final class Entrance implements AutoCloseable {
    /** Signing in takes milliseconds. Of more than these, whoever has stood there longest has to go. */
    static final int MOST_WAITING = 256;

    private static final long LONGEST_END_MS = 3_000;

    private final EventLoopGroup threads =
            new NioEventLoopGroup(new DefaultThreadFactory("broker-entrance", true));
    private final Set<Channel> waiting = new LinkedHashSet<>();
    private final NettyAcceptor artemis;
    private final boolean secure;
    private Channel socket;

    private Entrance(NettyAcceptor artemis, boolean secure) {
        this.artemis = artemis;
        this.secure = secure;
    }

    /**
     * Opens an entrance.
     *
     * @param port 0 for a free one, see {@link #port()}
     * @param secure whether connections speak TLS, as the acceptor is configured
     * @throws BrokerTrouble if the port is taken
     */
    static Entrance open(NettyAcceptor artemis, String host, int port, boolean secure) {
        Entrance entrance = new Entrance(artemis, secure);
        ChannelFuture bound =
                entrance.bootstrap().bind(new InetSocketAddress(host, port)).awaitUninterruptibly();
        if (!bound.isSuccess()) {
            entrance.close();
            throw busy(host, port, bound.cause());
        }
        entrance.socket = bound.channel();
        return entrance;
    }

    private static BrokerTrouble busy(String host, int port, Throwable cause) {
        return new BrokerTrouble(
                "the broker cannot listen on port "
                        + port
                        + " of "
                        + host
                        + " ("
                        + cause.getMessage()
                        + "); is another program using it? Choose one with --broker-port",
                cause);
    }

    private ServerBootstrap bootstrap() {
        return new ServerBootstrap()
                .group(threads)
                .channel(NioServerSocketChannel.class)
                // Connections of an earlier run may linger.
                .option(ChannelOption.SO_REUSEADDR, true)
                .childOption(ChannelOption.TCP_NODELAY, true)
                .childOption(ChannelOption.SO_KEEPALIVE, true)
                .childHandler(
                        new ChannelInitializer<>() {
                            @Override
                            protected void initChannel(Channel channel) throws Exception {
                                receive(channel);
                            }
                        });
    }

    private void receive(Channel channel) throws Exception {
        ChannelPipeline line = channel.pipeline();
        if (secure) {
            // Under the name by which Artemis looks for it.
            line.addLast("ssl", artemis.getSslHandler(channel.alloc(), null, 0));
        }
        PacketGate gate = new PacketGate(() -> gone(channel));
        line.addLast(gate, gate.answers());
        artemis.transfer(channel);
        makeRoomFor(channel);
        channel.closeFuture().addListener(closed -> gone(channel));
    }

    private void makeRoomFor(Channel channel) {
        Channel first = null;
        synchronized (waiting) {
            waiting.add(channel);
            if (waiting.size() > MOST_WAITING) {
                first = waiting.iterator().next();
                waiting.remove(first);
            }
        }
        if (first != null) {
            var unused = first.close();
        }
    }

    private void gone(Channel channel) {
        synchronized (waiting) {
            waiting.remove(channel);
        }
    }

    int port() {
        return ((InetSocketAddress) socket.localAddress()).getPort();
    }

    /** Lets nobody in any more; who is in stays until Artemis ends. */
    void shut() {
        socket.close().awaitUninterruptibly();
        List<Channel> left;
        synchronized (waiting) {
            left = List.copyOf(waiting);
        }
        for (Channel channel : left) {
            var unused = channel.close();
        }
    }

    /** After Artemis: until then its connections need the threads. */
    @Override
    public void close() {
        threads.shutdownGracefully(0, LONGEST_END_MS, TimeUnit.MILLISECONDS)
                .awaitUninterruptibly(LONGEST_END_MS);
    }
}
