package page_test

import "github.com/chromedp/cdproto/runtime"

// awaitPromise lets the browser wait for what an expression promises.
func awaitPromise(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }
