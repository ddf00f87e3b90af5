package rest_test

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"

	"clew/bot/discord/rest"
)

// A message is sent to a channel; a refusal says which by the platform's code.
func Example() {
	platform := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/api/v9/channels/9/messages" {
			_, _ = io.WriteString(w, `{"id":"900"}`)
			return
		}
		w.WriteHeader(http.StatusForbidden)
		_, _ = io.WriteString(w, `{"message":"Cannot send messages to this user","code":50007}`)
	}))
	defer platform.Close()
	c, err := rest.New(rest.Options{Token: "the.bots.token", API: platform.URL})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer c.Close()

	ctx := context.Background()
	id, err := c.Send(ctx, "9", rest.Message{Content: "Row six, wrong side."})
	fmt.Println(id, err)
	_, err = c.Send(ctx, "8", rest.Message{Content: "Row six, wrong side."})
	fmt.Println(rest.Code(err), err)
	// Output:
	// 900 <nil>
	// 50007 discord: POST channels/{channel}/messages: status 403, code 50007: Cannot send messages to this user
}
