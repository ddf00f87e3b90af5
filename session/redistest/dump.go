package redistest

import (
	"context"
	"fmt"
	"maps"
	"sync"
	"testing"
	"time"

	"github.com/redis/go-redis/v9"
)

// Dump gives everything behind a client, key by key: maps, lists and scores.
func Dump(t testing.TB, client redis.UniversalClient) map[string]any {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	var mu sync.Mutex
	all := map[string]any{}
	err := eachMaster(ctx, client, func(ctx context.Context, node *redis.Client) error {
		part, err := dumpNode(ctx, node)
		mu.Lock()
		defer mu.Unlock()
		maps.Copy(all, part)
		return err
	})
	if err != nil {
		t.Fatalf("the whole state cannot be read: %v", err)
	}
	return all
}

// Flush empties everything behind a client.
func Flush(t testing.TB, client redis.UniversalClient) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	err := eachMaster(ctx, client, func(ctx context.Context, node *redis.Client) error { return node.FlushAll(ctx).Err() })
	if err != nil {
		t.Fatal(err)
	}
}

func eachMaster(ctx context.Context, client redis.UniversalClient, do func(context.Context, *redis.Client) error) error {
	switch client := client.(type) {
	case *redis.ClusterClient:
		return client.ForEachMaster(ctx, do)
	case *redis.Client:
		return do(ctx, client)
	default:
		return fmt.Errorf("a client of an unexpected kind, %T", client)
	}
}

func dumpNode(ctx context.Context, node *redis.Client) (map[string]any, error) {
	keys, err := node.Keys(ctx, "*").Result()
	if err != nil {
		return nil, err
	}
	all := map[string]any{}
	for _, key := range keys {
		kind, err := node.Type(ctx, key).Result()
		if err != nil {
			return nil, err
		}
		switch kind {
		case "hash":
			all[key], err = node.HGetAll(ctx, key).Result()
		case "list":
			all[key], err = node.LRange(ctx, key, 0, -1).Result()
		case "zset":
			all[key], err = node.ZRangeWithScores(ctx, key, 0, -1).Result()
		default:
			err = fmt.Errorf("the key %q is of an unexpected kind, %s", key, kind)
		}
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}
