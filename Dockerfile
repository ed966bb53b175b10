# syntax=docker/dockerfile:1

# The program as a static binary in an image that holds nothing else.
#
#   docker build -t linetender .
#   docker run -d --name linetender -v linetender-data:/data \
#     -e LINETENDER_TOKEN linetender
#   docker logs linetender        # prints the owner's one-time code
#
# A token in a file is safer than one in the environment:
#   docker run -d -v linetender-data:/data -v ./token:/run/secrets/token:ro \
#     linetender serve --token-file /run/secrets/token

FROM golang:1.26-bookworm AS build
WORKDIR /src
COPY go.mod go.sum ./
RUN go mod download && go mod verify
COPY . .
RUN CGO_ENABLED=0 go build -trimpath -ldflags '-s -w' -o /out/linetender ./cmd/linetender
# The folders that the image needs and scratch cannot make: the data, owned by
# the user that the program runs as.
RUN mkdir -p /out/data && chmod 0700 /out/data

FROM scratch
COPY --from=build /etc/ssl/certs/ca-certificates.crt /etc/ssl/certs/
COPY --from=build /src/LICENSE /LICENSE
COPY --from=build --chown=65532:65532 /out/data /data
COPY --from=build /out/linetender /linetender
USER 65532:65532
ENV LINETENDER_DATA=/data
VOLUME /data
# Asks the running program whether it still hears the channel, can write its
# store and gets its answers out; fails when any of them has stopped.
HEALTHCHECK --interval=30s --timeout=10s --start-period=60s --retries=3 \
  CMD ["/linetender", "health"]
# The program ends cleanly on this: what is being answered is answered first.
STOPSIGNAL SIGTERM
ENTRYPOINT ["/linetender"]
CMD ["serve"]
