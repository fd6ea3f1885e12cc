package org.rootling.work;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.IntConsumer;
import org.rootling.support.Signal;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.web.filter.OncePerRequestFilter;
import org.springframework.web.util.ContentCachingResponseWrapper;
import tools.jackson.databind.json.JsonMapper;

/** The server's outermost door for the logs that phones send: counts the batches, and can lose the answer to one. */
@TestComponent
@Order(Ordered.HIGHEST_PRECEDENCE)
class OutboxDoor extends OncePerRequestFilter {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final List<Integer> batches = new CopyOnWriteArrayList<>();
    private volatile IntConsumer before = batch -> {};
    private volatile Map<Integer, Integer> lost = Map.of();
    private volatile Signal signal;

    /** Counts from now on; what to do before the server takes a batch of a number, from 1. */
    void watch(IntConsumer before) {
        batches.clear();
        lost = Map.of();
        this.before = before;
    }

    /**
     * Counts from now on, and cuts the signal for a moment once the server has taken a batch: by its number, from 1, the
     * bytes of the answer that still reach the phone.
     */
    void lose(Signal signal, Map<Integer, Integer> lost) {
        watch(batch -> {});
        this.signal = signal;
        this.lost = lost;
    }

    /** How many entries each batch had that the server answered, in that order. */
    List<Integer> batches() {
        return List.copyOf(batches);
    }

    @Override
    protected boolean shouldNotFilter(HttpServletRequest request) {
        return !request.getMethod().equals("POST") || !request.getRequestURI().endsWith("/outbox");
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        int batch = batches.size() + 1;
        before.accept(batch);
        ContentCachingResponseWrapper kept = new ContentCachingResponseWrapper(response);
        chain.doFilter(request, kept);
        byte[] answer = kept.getContentAsByteArray();
        batches.add(
                kept.getStatus() == 200 ? JSON.readTree(answer).path("entries").size() : 0);
        Integer bytes = lost.get(batch);
        if (bytes == null) {
            kept.copyBodyToResponse();
            return;
        }
        if (bytes > 0) {
            response.setContentLength(answer.length);
            response.getOutputStream().write(Arrays.copyOf(answer, bytes));
            response.flushBuffer();
        }
        signal.blink();
    }
}
