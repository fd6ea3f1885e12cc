package org.rootling.platform;

import io.micrometer.core.instrument.FunctionCounter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.binder.MeterBinder;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Executors;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.slf4j.MDC;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.web.context.request.RequestContextHolder;

/**
 * Work in the background of one node, asked for by one person, who alone sees it. How far it is, the wish to stop it and
 * what came of it stand in the database, where any node finds them. What the work stores, its file and its end are one
 * transaction: it is done, or nothing of it stays. In the work, person, vineyard, language, units and the number in the log
 * are those of the request that began it.
 */
@Component
public class Jobs implements DisposableBean, MeterBinder {

    private static final Logger LOG = LoggerFactory.getLogger(Jobs.class);
    private static final int MOST_AT_ONCE = 3;
    private static final int AT_WORK = 2;
    private static final long TELL_EVERY_NANOS = Duration.ofMillis(200).toNanos();
    private static final Duration BEAT = Duration.ofSeconds(10);

    /** Work whose node says nothing for so long was stopped with it. */
    private static final Duration SILENCE = Duration.ofSeconds(60);

    /** Tells how far the work is, and ends it where that is wished. */
    public interface Progress {

        /** The job that the work is of. */
        UUID id();

        /** So much is done; {@code all} is 0 while nobody knows how much there is. */
        void at(long done, long all);
    }

    /** What is to be done. Stores nothing itself; what is to be stored is in {@link Ended#storing}. */
    @FunctionalInterface
    public interface Work {
        Ended run(Progress progress) throws IOException;
    }

    /** Writes what a file holds. */
    @FunctionalInterface
    public interface Content {
        void write(OutputStream out) throws IOException;
    }

    /** A file that was made; it is taken in and then deleted. */
    public record Made(Path file, String name, String type) {}

    /**
     * What came of the work.
     *
     * @param page where to go on, inside the vineyard; null where there is a file to fetch
     * @param answer text for that page
     */
    public record Ended(
            @Nullable String page,
            @Nullable String answer,
            @Nullable Made made,
            Runnable storing) {

        /** Goes on at a page that reads the answer. */
        public static Ended answer(String page, String answer) {
            return new Ended(page, answer, null, () -> {});
        }

        /** A file to fetch, written whole before any of it is kept. */
        public static Ended file(String name, String type, Content content) throws IOException {
            Path file = Files.createTempFile("rootling", ".made");
            boolean whole = false;
            try {
                try (OutputStream out = Files.newOutputStream(file)) {
                    content.write(out);
                }
                whole = true;
                return new Ended(null, null, new Made(file, name, type), () -> {});
            } finally {
                if (!whole) {
                    Files.deleteIfExists(file);
                }
            }
        }

        /** Stores something in the transaction that ends the job, then goes on at a page. */
        public static Ended storing(String page, Runnable storing) {
            return new Ended(page, null, null, storing);
        }
    }

    /** How a job stands. */
    public record Job(
            UUID id,
            String title,
            String state,
            boolean stopping,
            long done,
            long total,
            String back,
            @Nullable String page,
            @Nullable String reason,
            @Nullable String fileName,
            @Nullable String fileType,
            long fileBytes) {

        public boolean running() {
            return state.equals("RUNNING");
        }

        public boolean finished() {
            return state.equals("DONE");
        }

        public int percent() {
            return total == 0 ? 0 : (int) Math.min(100, done * 100 / total);
        }
    }

    private static final class Cancelled extends RuntimeException {}

    private final JdbcClient jdbc;
    private final MessageSource messages;
    private final TransactionTemplate together;
    private final TransactionTemplate apart;
    private final Pieces files;
    private final ThreadPoolExecutor workers = new ThreadPoolExecutor(
            AT_WORK, AT_WORK, 0, TimeUnit.SECONDS, new LinkedBlockingQueue<>(), DaemonThreads.named("background"));
    private final ScheduledExecutorService beats =
            Executors.newScheduledThreadPool(1, DaemonThreads.named("background-beat"));
    private final Map<String, AtomicLong> ended =
            Map.of("DONE", new AtomicLong(), "FAILED", new AtomicLong(), "CANCELLED", new AtomicLong());

    Jobs(JdbcClient jdbc, MessageSource messages, PlatformTransactionManager transactions) {
        this.jdbc = jdbc;
        this.messages = messages;
        this.files = new Pieces(jdbc, "background_file", "job_id");
        this.together = new TransactionTemplate(transactions);
        this.apart = new TransactionTemplate(transactions);
        this.apart.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
    }

    /**
     * Begins work; where a transaction is open, after that.
     *
     * @param title what it is, in the reader's language
     * @param back the page it was asked for on, inside the vineyard
     */
    public UUID start(String title, String back, Work work) {
        int atWork = jdbc.sql("select count(*) from background_job where by_account = rootling_account()"
                        + " and state = 'RUNNING' and heard_at > now() - make_interval(secs => :silence)")
                .param("silence", SILENCE.toSeconds())
                .query(Integer.class)
                .single();
        if (atWork >= MOST_AT_ONCE) {
            throw new Refused("platform.job.too-many", MOST_AT_ONCE);
        }
        UUID id = Ids.next();
        jdbc.sql("insert into background_job (id, title, state, back) values (:id, :title, 'RUNNING', :back)")
                .param("id", id)
                .param("title", title)
                .param("back", back)
                .update();
        Asker asker = Asker.here();
        AfterCommit.run(() -> begin(id, work, asker));
        return id;
    }

    private void begin(UUID id, Work work, Asker asker) {
        Told told = new Told(id);
        try {
            ScheduledFuture<?> beat = beats.scheduleAtFixedRate(
                    () -> asker.run(told::beat), BEAT.toMillis(), BEAT.toMillis(), TimeUnit.MILLISECONDS);
            workers.execute(() -> {
                try {
                    asker.run(() -> work(id, work, told));
                } finally {
                    beat.cancel(false);
                }
            });
        } catch (RejectedExecutionException stopping) {
            LOG.info("not begun, the program is stopping");
        }
    }

    private void work(UUID id, Work work, Told told) {
        try {
            told.at(0, 0);
            Ended ended = work.run(told);
            try {
                together.executeWithoutResult(status -> finish(id, ended));
                counted("DONE");
            } finally {
                if (ended.made() != null) {
                    Files.deleteIfExists(ended.made().file());
                }
            }
        } catch (Cancelled stopped) {
            end(id, "CANCELLED", null);
        } catch (Refused refused) {
            Locale locale = LocaleContextHolder.getLocale();
            end(id, "FAILED", messages.getMessage(refused.key(), refused.args(), refused.key(), locale));
        } catch (IOException | RuntimeException failure) {
            LOG.error("work in the background failed", Wordless.of(failure));
            end(id, "FAILED", null);
        }
    }

    private void finish(UUID id, Ended ended) {
        ended.storing().run();
        Made made = ended.made();
        long bytes = made == null ? 0 : keep(id, made.file());
        int ours = jdbc.sql("""
                        update background_job set state = 'DONE', heard_at = now(), done = total, page = :page, answer = :answer,
                               file_name = :name, file_type = :type, file_bytes = :bytes
                         where id = :id and state = 'RUNNING' and not cancel_asked""")
                .param("page", ended.page())
                .param("answer", ended.answer())
                .param("name", made == null ? null : made.name())
                .param("type", made == null ? null : made.type())
                .param("bytes", bytes)
                .param("id", id)
                .update();
        if (ours == 0) {
            throw new Cancelled();
        }
    }

    private long keep(UUID id, Path file) {
        try (InputStream content = Files.newInputStream(file)) {
            return files.keep(id, content);
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    private void end(UUID id, String state, @Nullable String reason) {
        counted(state);
        jdbc.sql("update background_job set state = :state, reason = :reason, heard_at = now()"
                        + " where id = :id and state = 'RUNNING'")
                .param("state", state)
                .param("reason", reason == null || reason.length() <= 2000 ? reason : reason.substring(0, 2000))
                .param("id", id)
                .update();
    }

    /** Forgets the vineyard's jobs of more than a day ago, with what they made and answered. */
    public void forgetOld() {
        jdbc.sql("delete from background_job where started_at < now() - interval '1 day'")
                .update();
    }

    /** Wishes that the person's job ends; nothing of it stays unless it was done before. */
    public void cancel(UUID id) {
        jdbc.sql("update background_job set cancel_asked = true where id = :id and state = 'RUNNING'"
                        + " and by_account = rootling_account()")
                .param("id", id)
                .update();
    }

    /** A job of the person who asks. One whose node was stopped counts as failed. */
    public Optional<Job> job(UUID id) {
        return jdbc.sql("""
                        select *, state = 'RUNNING' and heard_at < now() - make_interval(secs => :silence) as dead
                          from background_job where id = :id and by_account = rootling_account()""")
                .param("silence", SILENCE.toSeconds())
                .param("id", id)
                .query((row, n) -> new Job(
                        row.getObject("id", UUID.class),
                        row.getString("title"),
                        row.getBoolean("dead") ? "FAILED" : row.getString("state"),
                        row.getBoolean("cancel_asked"),
                        row.getLong("done"),
                        row.getLong("total"),
                        row.getString("back"),
                        row.getString("page"),
                        row.getString("reason"),
                        row.getString("file_name"),
                        row.getString("file_type"),
                        row.getLong("file_bytes")))
                .optional();
    }

    /** The same, a moment later where it is still at work: what is quickly done needs no page of its own. */
    public Job soon(UUID id, Duration patience) {
        long until = System.nanoTime() + patience.toNanos();
        Job job = job(id).orElseThrow(() -> new NotFound("job"));
        while (job.running() && System.nanoTime() < until) {
            try {
                Thread.sleep(40);
            } catch (InterruptedException stopping) {
                Thread.currentThread().interrupt();
                return job;
            }
            job = job(id).orElseThrow(() -> new NotFound("job"));
        }
        return job;
    }

    /** The answer of a finished job of the person who asks. */
    public Optional<String> answer(UUID id) {
        return jdbc.sql("select answer from background_job where id = :id and by_account = rootling_account()"
                        + " and state = 'DONE' and answer is not null")
                .param("id", id)
                .query(String.class)
                .optional();
    }

    /** Writes the file of a finished job of the person who asks. */
    public void file(Job job, OutputStream out) throws IOException {
        files.write(job.id(), out);
    }

    private void counted(String state) {
        Objects.requireNonNull(ended.get(state)).incrementAndGet();
    }

    /** How much is at work on this node and how much waits for it, and how what was begun here ended. */
    @Override
    public void bindTo(MeterRegistry registry) {
        Gauge.builder("rootling.jobs.running", workers, ThreadPoolExecutor::getActiveCount)
                .register(registry);
        Gauge.builder("rootling.jobs.waiting", workers, pool -> pool.getQueue().size())
                .register(registry);
        ended.forEach((state, count) -> FunctionCounter.builder("rootling.jobs.ended", count, AtomicLong::get)
                .tag("state", state)
                .register(registry));
    }

    @Override
    public void destroy() {
        workers.shutdownNow();
        beats.shutdownNow();
    }

    private final class Told implements Progress {
        private final UUID id;
        private long last = System.nanoTime() - TELL_EVERY_NANOS;
        private volatile boolean stop;

        Told(UUID id) {
            this.id = id;
        }

        @Override
        public UUID id() {
            return id;
        }

        @Override
        public void at(long done, long all) {
            long now = System.nanoTime();
            if (now - last >= TELL_EVERY_NANOS) {
                last = now;
                // in a transaction of its own: the page sees it, whatever becomes of the work
                tell("done = :done, total = :all", done, all);
            }
            if (stop) {
                throw new Cancelled();
            }
        }

        void beat() {
            try {
                tell("done = greatest(done, :done), total = greatest(total, :all)", 0, 0);
            } catch (RuntimeException unheard) {
                LOG.warn("a job in the background could not say that it is alive", Wordless.of(unheard));
            }
        }

        private void tell(String how, long done, long all) {
            boolean wished = Boolean.TRUE.equals(apart.execute(status -> jdbc.sql("update background_job set " + how
                            + ", heard_at = now() where id = :id and state = 'RUNNING' returning cancel_asked")
                    .param("done", done)
                    .param("all", all)
                    .param("id", id)
                    .query(Boolean.class)
                    .optional()
                    .orElse(true)));
            if (wished) {
                stop = true;
            }
        }
    }

    private record Asker(
            @Nullable UUID vineyard,
            @Nullable UUID account,
            Locale locale,
            UnitChoice units,
            KeptAttributes attributes,
            @Nullable Map<String, String> logged) {

        static Asker here() {
            return new Asker(
                    Tenancy.vineyardOrNull(),
                    Tenancy.accountOrNull(),
                    LocaleContextHolder.getLocale(),
                    UnitChoice.current(),
                    KeptAttributes.ofThisRequest(),
                    MDC.getCopyOfContextMap());
        }

        void run(Runnable work) {
            LocaleContextHolder.setLocale(locale);
            UnitChoice.set(units);
            RequestContextHolder.setRequestAttributes(attributes);
            if (logged != null) {
                MDC.setContextMap(logged);
            }
            try {
                Tenancy.run(vineyard, account, work);
            } finally {
                MDC.clear();
                RequestContextHolder.resetRequestAttributes();
                UnitChoice.clear();
                LocaleContextHolder.resetLocaleContext();
            }
        }
    }
}
