# Builds clew, and runs it as a numbered user without rights on a slim base:
# docker run -it -v clew:/data IMAGE for a conversation at the terminal.
FROM golang:1.26-bookworm AS build
WORKDIR /src
COPY go.mod go.sum ./
RUN go mod download
COPY . .
RUN CGO_ENABLED=0 go build -trimpath -ldflags='-s -w' -o /clew ./cmd/clew \
 && mkdir /data

FROM debian:bookworm-slim
# Without these no certificate of the platform's could be trusted.
COPY --from=build /etc/ssl/certs/ca-certificates.crt /etc/ssl/certs/
COPY --from=build /clew /usr/local/bin/clew
COPY --from=build --chown=10001:10001 /data /data
ENV CLEW_DATA=/data
VOLUME /data
USER 10001:10001
ENTRYPOINT ["/usr/local/bin/clew"]
CMD ["chat"]
