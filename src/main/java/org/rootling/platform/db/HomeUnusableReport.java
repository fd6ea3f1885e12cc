package org.rootling.platform.db;

import org.springframework.boot.diagnostics.AbstractFailureAnalyzer;
import org.springframework.boot.diagnostics.FailureAnalysis;

/** Shows an unusable folder as a plain sentence instead of a stack trace. */
class HomeUnusableReport extends AbstractFailureAnalyzer<HomeUnusable> {

    @Override
    protected FailureAnalysis analyze(Throwable root, HomeUnusable cause) {
        return new FailureAnalysis(String.valueOf(cause.getMessage()), null, cause);
    }
}
