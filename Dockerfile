# Builds the native SQLite binding and the screens once, then ships only what runs.
FROM node:20-bookworm AS build
WORKDIR /app
COPY package.json package-lock.json ./
RUN npm ci --no-audit --no-fund
COPY . .
RUN npm run build && npm prune --omit=dev

FROM node:20-bookworm-slim
ENV NODE_ENV=production \
    WAXWARDEN_HOST=0.0.0.0 \
    WAXWARDEN_PORT=8460 \
    WAXWARDEN_DATA=/data
WORKDIR /app
COPY --from=build --chown=node:node /app/package.json ./
COPY --from=build --chown=node:node /app/node_modules ./node_modules
COPY --from=build --chown=node:node /app/dist ./dist
RUN install -d -o node -g node /data
USER node
VOLUME /data
EXPOSE 8460
HEALTHCHECK --interval=15s --timeout=5s --start-period=20s \
  CMD ["node", "-e", "fetch('http://127.0.0.1:'+process.env.WAXWARDEN_PORT+'/api/health').then(r=>process.exit(r.ok?0:1),()=>process.exit(1))"]
CMD ["node", "--disable-warning=ExperimentalWarning", "dist/cli/main.js"]
