package org.evenwash.logger.web;

import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.evenwash.logger.transfer.Progress;
import org.evenwash.logger.wash.Refused;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Dry runs, imports and undos, one after the other beside the requests that ask how far they are. */
final class ImportJobs implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(ImportJobs.class);
    private static final int MOST_WAITING = 8;
    private static final int MOST_REMEMBERED = 200;

    private final ConcurrentHashMap<UUID, Job> jobs = new ConcurrentHashMap<>();
    private final ThreadPoolExecutor worker =
            new ThreadPoolExecutor(
                    1,
                    1,
                    0,
                    TimeUnit.SECONDS,
                    new ArrayBlockingQueue<>(MOST_WAITING),
                    work -> {
                        Thread thread = new Thread(work, "imports");
                        thread.setDaemon(true);
                        return thread;
                    });

    /** Work that tells how far it is. */
    interface Work {
        void run(Progress progress);
    }

    /** One run of one file. */
    static final class Job implements Progress {
        private final CountDownLatch finished = new CountDownLatch(1);
        private volatile long done;
        private volatile long total = 1;
        private volatile RuntimeException trouble;

        @Override
        public void at(long doneNow, long totalNow) {
            done = doneNow;
            total = totalNow;
        }

        long done() {
            return done;
        }

        long total() {
            return total;
        }

        boolean running() {
            return finished.getCount() > 0;
        }

        /** Why it was not done, null while it runs or if it was. */
        RuntimeException trouble() {
            return trouble;
        }

        /** True if it is finished within that time. */
        boolean within(long millis) {
            try {
                return finished.await(millis, TimeUnit.MILLISECONDS);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return false;
            }
        }
    }

    /**
     * @throws Refused if the file is being worked on, or too many wait
     */
    Job start(UUID id, Work work) {
        if (jobs.size() > MOST_REMEMBERED) {
            jobs.values().removeIf(job -> !job.running());
        }
        Job job = new Job();
        Job before = jobs.compute(id, (key, old) -> old != null && old.running() ? old : job);
        if (before != job) {
            throw busy();
        }
        try {
            worker.execute(() -> run(id, job, work));
        } catch (RejectedExecutionException full) {
            jobs.remove(id, job);
            throw busy();
        }
        return job;
    }

    private static Refused busy() {
        return Refused.unavailable("import", "is being worked on", "wait until it is done");
    }

    private static void run(UUID id, Job job, Work work) {
        try {
            work.run(job);
        } catch (RuntimeException e) {
            if (!(e instanceof Refused)) {
                LOG.error("import {} failed", id, e);
            }
            job.trouble = e;
        } finally {
            job.finished.countDown();
        }
    }

    Optional<Job> of(UUID id) {
        return Optional.ofNullable(jobs.get(id));
    }

    @Override
    public void close() {
        worker.shutdownNow();
    }
}
