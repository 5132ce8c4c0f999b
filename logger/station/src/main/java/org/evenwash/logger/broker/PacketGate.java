package org.evenwash.logger.broker;

import io.netty.buffer.ByteBuf;
import io.netty.buffer.Unpooled;
import io.netty.channel.ChannelHandler;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelOutboundHandlerAdapter;
import io.netty.channel.ChannelPromise;
import io.netty.handler.codec.ByteToMessageDecoder;
import io.netty.util.concurrent.ScheduledFuture;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Looks at the bytes of one connection before Artemis does: which packet begins, and how long it says it
 * is. A stranger gets one small CONNECT through, and nothing more before it is welcome. Artemis itself
 * would also take a web request, and collect up to 2 GB of it or 256 MB of a packet.
 */
final class PacketGate extends ByteToMessageDecoder {
    /** From the first sign to the welcome, TLS included. */
    static final long PATIENCE_S = 10;

    /** Ids, a password and a last will of 1 kB: with room to spare. */
    static final int LARGEST_CONNECT_B = 32 << 10;

    /** Above the limit that Artemis names to clients, so that it can still say what was wrong. */
    static final int LARGEST_PACKET_B = 2 * Broker.LARGEST_PACKET_B;

    private static final int CONNECT = 0x10;
    private static final int CONNACK = 0x20;
    private static final int DISCONNECT = 0xE0;
    private static final int MOST_LENGTH_BYTES = 4;
    private static final Logger LOG = LoggerFactory.getLogger(PacketGate.class);

    private enum Stage {
        CONNECT_EXPECTED,
        ANSWER_EXPECTED,
        OPEN,
        SHUT
    }

    private final Runnable welcomed;
    private Stage stage = Stage.CONNECT_EXPECTED;
    private ChannelHandlerContext context;
    private ScheduledFuture<?> patience;
    private int firstByte;
    private int left_B;

    /**
     * A gate for one connection; all happens on its thread.
     *
     * @param welcomed called when the broker has let it in
     */
    PacketGate(Runnable welcomed) {
        this.welcomed = welcomed;
    }

    @Override
    public void handlerAdded(ChannelHandlerContext added) {
        context = added;
        patience =
                added.executor()
                        .schedule(
                                () -> shut("has not signed in in time"),
                                PATIENCE_S,
                                TimeUnit.SECONDS);
        added.channel().closeFuture().addListener(closed -> patience.cancel(false));
    }

    @Override
    protected void decode(ChannelHandlerContext unused, ByteBuf in, List<Object> out) {
        switch (stage) {
            case CONNECT_EXPECTED -> takeConnect(in, out);
            case ANSWER_EXPECTED -> {
                // It waits here, and no more than has been read already: see takeConnect.
            }
            case OPEN -> pass(in, out);
            case SHUT -> in.skipBytes(in.readableBytes());
        }
    }

    private void takeConnect(ByteBuf in, List<Object> out) {
        int size_B = packet_B(in);
        if (in.getUnsignedByte(in.readerIndex()) != CONNECT) {
            shut("speaks something else than MQTT");
        } else if (size_B > LARGEST_CONNECT_B) {
            shut("begins with a packet of " + size_B + " bytes");
        } else if (size_B > 0 && in.readableBytes() >= size_B) {
            stage = Stage.ANSWER_EXPECTED;
            context.channel().config().setAutoRead(false);
            out.add(in.readRetainedSlice(size_B));
        }
    }

    private void pass(ByteBuf in, List<Object> out) {
        if (left_B == 0) {
            firstByte = in.getUnsignedByte(in.readerIndex());
            left_B = packet_B(in);
            if (firstByte == CONNECT || left_B > LARGEST_PACKET_B) {
                shut("sends a packet of kind " + (firstByte >> 4) + " and " + left_B + " bytes");
                return;
            }
        }
        int part_B = Math.min(left_B, in.readableBytes());
        if (part_B > 0) {
            left_B -= part_B;
            out.add(in.readRetainedSlice(part_B));
            if (firstByte == DISCONNECT && left_B == 0) {
                // Artemis does not free what comes after it.
                stage = Stage.SHUT;
            }
        }
    }

    /** Size of the packet that begins here; 0 while that cannot be told, the largest number if it is none. */
    private static int packet_B(ByteBuf in) {
        int length_B = 0;
        for (int i = 1; i <= MOST_LENGTH_BYTES; i++) {
            if (in.readableBytes() <= i) {
                return 0;
            }
            int digit = in.getUnsignedByte(in.readerIndex() + i);
            length_B |= (digit & 0x7F) << (7 * (i - 1));
            if (digit < 0x80) {
                return 1 + i + length_B;
            }
        }
        return Integer.MAX_VALUE;
    }

    private void shut(String why) {
        LOG.debug("{} {}: hung up", context.channel().remoteAddress(), why);
        stage = Stage.SHUT;
        var unused = context.close();
    }

    /** Watches for the broker's welcome; belongs behind the gate. */
    ChannelHandler answers() {
        return new ChannelOutboundHandlerAdapter() {
            @Override
            public void write(ChannelHandlerContext here, Object message, ChannelPromise sent) {
                boolean welcome = stage == Stage.ANSWER_EXPECTED && isWelcome(message);
                var unused = here.write(message, sent);
                if (welcome) {
                    here.executor().execute(PacketGate.this::open);
                }
            }
        };
    }

    private static boolean isWelcome(Object message) {
        if (!(message instanceof ByteBuf packet) || packet.readableBytes() < 4) {
            return false;
        }
        int start = packet.readerIndex();
        int lengthBytes = packet.getUnsignedByte(start + 1) < 0x80 ? 1 : 2;
        int reason = packet.getUnsignedByte(start + 1 + lengthBytes + 1);
        return packet.getUnsignedByte(start) == CONNACK && reason == 0;
    }

    private void open() {
        if (stage != Stage.ANSWER_EXPECTED) {
            return;
        }
        stage = Stage.OPEN;
        patience.cancel(false);
        welcomed.run();
        context.channel().config().setAutoRead(true);
        try {
            channelRead(context, Unpooled.EMPTY_BUFFER); // what came with CONNECT
            channelReadComplete(context);
        } catch (Exception e) { // the library's own signature
            context.fireExceptionCaught(e);
        }
    }

    @Override
    public void exceptionCaught(ChannelHandlerContext here, Throwable cause) {
        if (stage == Stage.OPEN) {
            here.fireExceptionCaught(cause);
        } else {
            shut("is cut off by " + cause);
        }
    }
}
