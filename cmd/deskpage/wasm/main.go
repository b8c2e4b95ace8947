//go:build js && wasm

// Command wasm is the program as the page runs it: in a worker of the browser, which
// hands it the page's calls and hands back what it says and makes.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"syscall/js"
	"time"

	"deskpart/cmd/internal/service"
)

// deskpart is what the worker's own script and the program know of each other: the
// script calls deskpart.call and deskpart.stop, the program calls deskpart.say.
var deskpart = js.Global().Get("deskpart")

func main() {
	desk, err := service.New()
	if err != nil {
		panic(err) // the tables are in the program itself
	}
	var stop context.CancelFunc = func() {}
	deskpart.Set("call", js.FuncOf(func(_ js.Value, args []js.Value) any {
		var ctx context.Context
		ctx, stop = context.WithCancel(context.Background())
		go answer(ctx, desk, args[0].String(), []byte(args[1].String()), filesIn(args[2]))
		return nil
	}))
	deskpart.Set("stop", js.FuncOf(func(js.Value, []js.Value) any {
		stop()
		return nil
	}))
	say(map[string]any{"ready": true, "mostBytes": service.InputBytes()})
	select {}
}

// answer carries out one call and says what came of it. The worker hands over one call
// at a time.
func answer(ctx context.Context, desk *service.Service, name string, request []byte, files []service.File) {
	reply, err := desk.Call(ctx, name, request, files, func(p service.Progress) {
		say(map[string]any{"progress": encoded(p), "files": filesOut(p.Files)})
		time.Sleep(time.Millisecond) // the worker's turn: it may hear that the call is to stop
	})
	switch {
	case errors.Is(err, context.Canceled):
		say(map[string]any{"stopped": true})
	case err != nil:
		say(map[string]any{"failed": encoded(service.Refusal(request, err))})
	default:
		say(map[string]any{"value": encoded(reply.Value), "files": filesOut(reply.Files)})
	}
}

func say(message map[string]any) { deskpart.Call("say", message) }

func encoded(value any) string {
	document, err := json.Marshal(value)
	if err != nil {
		return "null"
	}
	return string(document)
}

// filesIn takes over a list of [name, bytes].
func filesIn(list js.Value) []service.File {
	files := make([]service.File, list.Length())
	for i := range files {
		pair := list.Index(i)
		data := make([]byte, pair.Index(1).Length())
		js.CopyBytesToGo(data, pair.Index(1))
		files[i] = service.File{Name: pair.Index(0).String(), Data: data}
	}
	return files
}

func filesOut(files []service.File) []any {
	list := []any{}
	for _, file := range files {
		data := js.Global().Get("Uint8Array").New(len(file.Data))
		js.CopyBytesToJS(data, file.Data)
		list = append(list, []any{file.Name, data})
	}
	return list
}
