package org.rootling.platform.db;

import java.nio.file.Path;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import org.springframework.beans.factory.support.DefaultListableBeanFactory;
import org.springframework.context.ApplicationContextInitializer;
import org.springframework.context.support.GenericApplicationContext;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;

/**
 * Starts the embedded server beside the application, not before it: its processes take a second to come up, several when
 * they make a new home, and in that time our classes are read on another core.
 */
@Order(Ordered.LOWEST_PRECEDENCE) // after those that add to the environment, as tests do
class EmbeddedAhead implements ApplicationContextInitializer<GenericApplicationContext> {

    @Override
    public void initialize(GenericApplicationContext context) {
        if (!OwnerAccess.external(context.getEnvironment())) {
            Starting starting = new Starting(OwnerAccess.home(context.getEnvironment()));
            DefaultListableBeanFactory beans = context.getDefaultListableBeanFactory();
            beans.registerSingleton(Starting.class.getName(), starting);
            beans.registerDisposableBean(Starting.class.getName(), starting::close);
        }
    }

    /** A server that is coming up. */
    static final class Starting {

        private final CompletableFuture<EmbeddedServer> server = new CompletableFuture<>();

        private Starting(Path home) {
            // A thread of its own, since those of the common pool do not see the libraries inside our jar.
            new Thread(() -> start(home), "database-start").start();
        }

        private void start(Path home) {
            try {
                server.complete(EmbeddedServer.start(home));
            } catch (RuntimeException | Error failure) {
                server.completeExceptionally(failure);
            }
        }

        /**
         * Waits until it is up.
         *
         * @throws HomeUnusable as {@link EmbeddedServer#start} does
         */
        EmbeddedServer server() {
            try {
                return server.join();
            } catch (CompletionException failed) {
                if (failed.getCause() instanceof RuntimeException cause) {
                    throw cause;
                }
                throw failed;
            }
        }

        /** For an application that ends before anyone asked for its server. */
        private void close() throws Exception {
            EmbeddedServer up = server.exceptionally(neverCameUp -> null).join();
            if (up != null) {
                up.close();
            }
        }
    }
}
