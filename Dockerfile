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
# Over HTTPS as over HTTP; the certificate is that of this very machine and not looked at.
HEALTHCHECK --interval=15s --timeout=5s --start-period=20s \
  CMD ["node", "-e", "const look=(protocol,more)=>new Promise((well,ill)=>require(protocol).get({host:'127.0.0.1',port:process.env.WAXWARDEN_PORT,path:'/api/health',...more},answer=>{answer.resume();answer.statusCode===200?well():ill()}).on('error',ill));look('http').catch(()=>look('https',{rejectUnauthorized:false})).then(()=>process.exit(0),()=>process.exit(1))"]
CMD ["node", "--disable-warning=ExperimentalWarning", "dist/cli/main.js"]
