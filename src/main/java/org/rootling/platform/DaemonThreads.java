package org.rootling.platform;

import java.util.concurrent.ThreadFactory;

/** Threads that do not keep the program from ending. */
public final class DaemonThreads {

    private DaemonThreads() {}

    public static ThreadFactory named(String name) {
        return work -> {
            Thread thread = new Thread(work, name);
            thread.setDaemon(true);
            return thread;
        };
    }
}
